import "server-only";
import type { Actor } from "@/lib/access/actor";
import { may } from "@/lib/access/may";
import { type ProposalRefusal, proposalSentences, type Verdict } from "@/lib/access/two-people";
import { draftTests } from "@/lib/bench-tests/first-draft";
import { planChanges } from "@/lib/bench-tests/plan-changes";
import { type PlanProposal, readProposedTests } from "@/lib/bench-tests/plan-proposal";
import type { ProposalProblem } from "@/lib/bench-tests/proposal-problem";
import { type TestDefinition, testListSchema } from "@/lib/bench-tests/test-definition.schema";
import { asActor, type Transaction } from "../database";
import { proposedBy, settleProposal, type TwoPeople, twoPeople } from "../two-people";
import { breaksUnique } from "../unique-violation";

export interface TestPlanView extends TwoPeople {
  readonly id: string;
  readonly version: number;
  readonly tests: readonly TestDefinition[];
  /** What it changed against the version before that was approved. */
  readonly changes: readonly string[];
}

/** The packs a plan is for, with every version, newest first. */
export interface PlanScope {
  readonly scope: string;
  readonly title: string;
  readonly plans: readonly TestPlanView[];
}

export type PlanAnswer =
  | { readonly ok: true }
  | {
      readonly ok: false;
      readonly reason: ProposalRefusal | "proposal-open" | "changed" | "unsound";
      readonly problems: readonly ProposalProblem[];
    };

function refuse(reason: Extract<PlanAnswer, { ok: false }>["reason"], sentence: string, field = "why"): PlanAnswer {
  return { ok: false, reason, problems: [{ field, sentence }] };
}

const sentences = proposalSentences({
  thing: "version",
  whose: "the service lead and managers",
  another: "somebody else",
  notPast: "what was judged before stays judged.",
});

/** Every model, and every revision that has plans of its own; null where the person may not ask. */
export async function listPlanScopes(actor: Actor): Promise<PlanScope[] | null> {
  if (!may(actor, "read-build-record")) return null;
  return asActor(actor, async (tx) => {
    const models = await tx.packModel.findMany({ select: { code: true, name: true }, orderBy: { code: "asc" } });
    const rows = await tx.testPlan.findMany({ orderBy: [{ scope: "asc" }, { version: "asc" }] });
    const revisions = [...new Set(rows.map(({ scope }) => scope))].filter(
      (scope) => !models.some(({ code }) => code === scope),
    );
    const scopes = [
      ...models.map(({ code, name }) => ({ scope: code, title: `${name}, every revision` })),
      ...revisions.map((scope) => ({ scope, title: `Revision ${scope}` })),
    ];
    return scopes.map((one) => ({
      ...one,
      plans: viewsOf(
        rows.filter(({ scope }) => scope === one.scope),
        actor,
      ),
    }));
  });
}

type PlanRow = Awaited<ReturnType<Transaction["testPlan"]["findMany"]>>[number];

function viewsOf(rows: readonly PlanRow[], actor: Actor): TestPlanView[] {
  let before: readonly TestDefinition[] = [];
  return rows
    .map((row) => {
      const tests = testListSchema.parse(row.tests);
      const changes = before.length === 0 ? [] : planChanges(before, tests);
      if (row.state === "approved") before = tests;
      return {
        id: row.id,
        version: row.version,
        tests,
        changes,
        ...twoPeople(actor, row),
      };
    })
    .reverse();
}

export interface PlanBase {
  readonly scope: string;
  readonly title: string;
  /** Newest approved version; 0 where there is none, then the tests are a draft worked out from the model. */
  readonly version: number;
  readonly tests: readonly TestDefinition[];
}

/** What a proposal for these packs starts from; null where there is no such model or revision, or one may not propose. */
export async function readPlanBase(actor: Actor, scope: string): Promise<PlanBase | null> {
  if (!may(actor, "propose-test-plan")) return null;
  return asActor(actor, (tx) => baseOf(tx, scope)).then((base) => base?.shown ?? null);
}

async function baseOf(tx: Transaction, scope: string) {
  const revision = await tx.revision.findUnique({ where: { code: scope }, select: { id: true, modelId: true } });
  const model = await tx.packModel.findUnique({
    where: revision === null ? { code: scope } : { id: revision.modelId },
  });
  if (model === null) return null;
  // A revision without a plan of its own starts from that of its model.
  const newest = await tx.testPlan.findFirst({
    where: { state: "approved", scope: { in: [scope, model.code] } },
    orderBy: [{ revisionId: { sort: "asc", nulls: "last" } }, { version: "desc" }],
    select: { scope: true, version: true, tests: true },
  });
  return {
    modelId: model.id,
    revisionId: revision?.id ?? null,
    shown: {
      scope,
      title: revision === null ? `${model.name}, every revision` : `Revision ${scope} of ${model.name}`,
      version: newest?.scope === scope ? newest.version : 0,
      tests: newest === null ? draftTests({ ...model, groups: model.seriesCount }) : testListSchema.parse(newest.tests),
    },
  };
}

/** Proposes the next version. It counts for nothing until another person approves it; results keep the version they were judged by. */
export async function proposeTestPlan(
  actor: Actor,
  { scope, onVersion, why }: PlanProposal,
  typed: Readonly<Record<string, unknown>>,
  now = new Date(),
): Promise<PlanAnswer> {
  if (!may(actor, "propose-test-plan"))
    return refuse("not-allowed", "A plan is proposed by the service lead or a manager.");
  try {
    return await asActor(actor, async (tx) => {
      const base = await baseOf(tx, scope);
      if (base === null) return refuse("not-found", "There is no such model or revision.");
      if (base.shown.version !== onVersion) {
        return refuse("changed", "Another version was approved meanwhile. Load the page again and start from that.");
      }
      const read = readProposedTests(base.shown.tests, typed);
      if (read.kind === "problems") return { ok: false, reason: "unsound", problems: read.problems };
      if (onVersion > 0 && planChanges(base.shown.tests, read.tests).length === 0) {
        return refuse("unsound", "Nothing differs from the version in force.");
      }
      const last = await tx.testPlan.aggregate({ where: { scope }, _max: { version: true } });
      await tx.testPlan.create({
        data: {
          scope,
          modelId: base.modelId,
          revisionId: base.revisionId,
          version: (last._max.version ?? 0) + 1,
          tests: [...read.tests],
          why,
          ...proposedBy(actor, now),
        },
      });
      return { ok: true };
    });
  } catch (error) {
    if (breaksUnique(error, "TestPlan_one_proposal_a_scope", "TestPlan_scope_version_key"))
      return refuse("proposal-open", "A proposal for these packs is open: settle it first.");
    throw error;
  }
}

/** Approves or drops a proposal. Whoever proposed it never approves it. */
export async function settleTestPlan(
  actor: Actor,
  id: string,
  verdict: Verdict,
  now = new Date(),
): Promise<PlanAnswer> {
  if (!may(actor, "approve-test-plan"))
    return refuse("not-allowed", "A plan is approved by the service lead or a manager.");
  const answer = await settleProposal(actor, {
    verdict,
    now,
    find: (tx) => tx.testPlan.findUnique({ where: { id }, select: { state: true, proposedByUserId: true } }),
    save: (tx, _row, columns) => tx.testPlan.updateMany({ where: { id, state: "proposed" }, data: columns }),
  });
  return answer.ok ? answer : refuse(answer.reason, sentences[answer.reason]);
}
