import "server-only";
import type { Actor } from "@/lib/access/actor";
import { may } from "@/lib/access/may";
import { type ProposalRefusal, proposalSentences, type Verdict } from "@/lib/access/two-people";
import { rulesChanged } from "@/lib/transport/rule-fields";
import { type RuleProblem, readRuleProposal } from "@/lib/transport/rule-proposal";
import type { TransportRules } from "@/lib/transport/rule-set.schema";
import { type CalendarDate, compareDates } from "@/lib/warranty/calendar";
import { civilDateAt } from "@/lib/warranty/place-of-sale";
import { fromDateColumn, toDateColumn } from "../calendar-columns";
import { asActor } from "../database";
import { firstDayIsOver, peopleSelect, proposedBy, settleProposal, type TwoPeople, twoPeople } from "../two-people";
import { breaksUnique } from "../unique-violation";
import { fingerprintOf, ruleSelect, rulesInForce, toTransportRules } from "./transport-rules";

export interface TransportRuleVersionView extends TwoPeople {
  readonly version: string;
  readonly validFrom: CalendarDate;
  readonly isInForce: boolean;
  readonly isConfirmed: boolean;
  readonly rules: TransportRules;
  /** Against the approved version that began before it; null for the first. */
  readonly changes: readonly string[] | null;
}

export type RuleVersionAnswer =
  | { readonly ok: true }
  | {
      readonly ok: false;
      readonly reason: ProposalRefusal | "unsound";
      readonly problems: readonly RuleProblem[];
      readonly sentence: string;
    };

const sentences = proposalSentences({
  thing: "version",
  whose: "the service lead, managers and the safety officer",
  another: "another person",
  notPast: "what was sent under the old one was sent under the old one.",
});

function refuse(reason: ProposalRefusal): RuleVersionAnswer {
  const field = reason === "day-past" || reason === "day-taken" ? "validFrom" : "version";
  const sentence = sentences[reason];
  return { ok: false, reason, sentence, problems: [{ field, sentence }] };
}

/** Every version of the transport rules, newest first; null where the person may not ask. */
export async function listTransportRuleVersions(
  actor: Actor,
  now = new Date(),
): Promise<TransportRuleVersionView[] | null> {
  if (!may(actor, "read-incidents")) return null;
  const { rows, confirmed } = await asActor(actor, async (tx) => ({
    rows: await tx.transportRuleVersion.findMany({
      select: { ...ruleSelect, ...peopleSelect },
      orderBy: [{ validFrom: "desc" }, { proposedAt: "desc" }],
    }),
    confirmed: await tx.transportRuleConfirmation.findMany({ select: { fingerprint: true } }),
  }));
  const read = rows.map((row) => ({ row, rules: toTransportRules(row), from: fromDateColumn(row.validFrom) }));
  const approved = read.filter(({ row }) => row.state === "approved");
  const today = civilDateAt(now, "UTC");
  const inForce = approved.find(({ from }) => compareDates(from, today) <= 0);
  return read.map(({ row, rules, from }) => {
    const before = approved.find((one) => compareDates(one.from, from) <= 0 && one.row.version !== row.version);
    return {
      version: row.version,
      validFrom: from,
      isInForce: row.version === inForce?.row.version,
      isConfirmed: confirmed.some(({ fingerprint }) => fingerprint === fingerprintOf(rules)),
      rules,
      changes: before === undefined ? null : rulesChanged(before.rules, rules),
      ...twoPeople(actor, row),
    };
  });
}

/**
 * Proposes a version, started from the rules in force. It counts for nothing until another person approves it, and never
 * begins before today.
 */
export async function proposeTransportRules(
  actor: Actor,
  typed: Readonly<Record<string, unknown>>,
  now = new Date(),
): Promise<RuleVersionAnswer> {
  if (!may(actor, "propose-transport-rules")) return refuse("not-allowed");
  const today = civilDateAt(now, "UTC");
  try {
    return await asActor(actor, async (tx) => {
      const base = await rulesInForce(tx, today);
      const read = readRuleProposal(base.rules, typed);
      if (read.kind === "problems") return unsound(read.problems);
      const { rules, why } = read.proposal;
      if (compareDates(rules.validFrom, today) < 0) return refuse("day-past");
      if (rulesChanged(base.rules, rules).length === 0)
        return unsound([{ field: "why", sentence: "Nothing differs from the rules in force." }]);
      const { version, validFrom, ...content } = rules;
      await tx.transportRuleVersion.create({
        data: { version, validFrom: toDateColumn(validFrom), content, why, ...proposedBy(actor, now) },
        select: { id: true },
      });
      return { ok: true };
    });
  } catch (error) {
    if (breaksUnique(error, "TransportRuleVersion_version_key")) return refuse("version-taken");
    throw error;
  }
}

function unsound(problems: readonly RuleProblem[]): RuleVersionAnswer {
  return { ok: false, reason: "unsound", problems, sentence: problems.map(({ sentence }) => sentence).join(" ") };
}

/** Approves or drops a proposal; whoever proposed it never approves it. */
export async function settleTransportRules(
  actor: Actor,
  version: string,
  verdict: Verdict,
  now = new Date(),
): Promise<RuleVersionAnswer> {
  if (!may(actor, "approve-transport-rules")) return refuse("not-allowed");
  const answer = await settleProposal(actor, {
    verdict,
    now,
    find: (tx) => tx.transportRuleVersion.findUnique({ where: { version } }),
    whyNotApproved: (row) => firstDayIsOver(row, now),
    save: (tx, _row, columns) =>
      tx.transportRuleVersion.updateMany({ where: { version, state: "proposed" }, data: columns }),
    dayIndex: "TransportRuleVersion_one_approved_a_day",
  });
  return answer.ok ? answer : refuse(answer.reason);
}
