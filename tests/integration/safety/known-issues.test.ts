import { beforeAll, expect, test } from "vitest";
import { verifyEveryChain } from "@/lib/data/chains/verify-chains";
import { asActor, asSystem } from "@/lib/data/database";
import { noticePath } from "@/lib/data/notices/notices";
import { lookUpPack } from "@/lib/data/packs/packs";
import { readStops } from "@/lib/data/packs/stock-packs";
import { readBenchReturn } from "@/lib/data/returns/bench-returns";
import { lodgeReturn } from "@/lib/data/returns/lodge-return";
import { beginAffectedSet } from "@/lib/data/safety/affected-sets";
import { findIssuePacks } from "@/lib/data/safety/issue-packs";
import { proposeClosing, proposeIssue, settleIssueProposal } from "@/lib/data/safety/issue-proposals";
import { listKnownIssues } from "@/lib/data/safety/list-issues";
import { listOwnHeldBack } from "@/lib/data/safety/own-held-back";
import { tellOfStopsAsSystem } from "@/lib/data/safety/tell-of-stops";
import { type OpenIssue, openIssueSchema } from "@/lib/packs/issue-proposal";
import { groupSerial } from "@/lib/packs/serial";
import { newSetSchema } from "@/lib/reliability/affected-set";
import { type CalendarDate, plusDays } from "@/lib/warranty/calendar";
import { civilDateAt } from "@/lib/warranty/place-of-sale";
import { createSmallFleet, filledForm, type SmallFleet } from "@/tests/support/small-fleet";
import { withTestDatabase } from "@/tests/support/test-database";
import { expectWrittenOnce } from "@/tests/support/written-once";

withTestDatabase();

const today = civilDateAt(new Date(), "UTC");
let fleet: SmallFleet;
beforeAll(async () => {
  fleet = await createSmallFleet();
});

const issueWith = (over: Record<string, string> = {}): OpenIssue =>
  openIssueSchema.parse({
    revision: "QP-A",
    title: "Main leads work loose",
    action: "Do not ride. Send the pack in, whatever its age.",
    coversWhateverTheDate: "yes",
    stopShip: "no",
    fault: "main-lead",
    validFrom: today,
    why: "Seven leads came loose in one month.",
    ...over,
  });
const close = (issue: string, validFrom: CalendarDate = today) => ({
  issue,
  validFrom,
  why: "Every lead was changed.",
});

async function proposalOf(title: string): Promise<string> {
  const known = await listKnownIssues(fleet.lead);
  const found = known?.proposals.find(({ words }) => words.title === title);
  if (found === undefined) throw new Error(`no proposal is called ${title}`);
  return found.id;
}
const issueCalled = async (title: string) => {
  const found = (await listKnownIssues(fleet.lead))?.issues.find((issue) => issue.title === title);
  if (found === undefined) throw new Error(`no issue is called ${title}`);
  return found;
};
/** Proposed by one and approved by another. */
async function open(over: Record<string, string>): Promise<string> {
  const asked = issueWith(over);
  expect(await proposeIssue(fleet.manager2, asked)).toEqual({ ok: true });
  expect(await settleIssueProposal(fleet.safetyOfficer, await proposalOf(asked.title), "approved")).toEqual({
    ok: true,
  });
  return (await issueCalled(asked.title)).id;
}
const coverOfSydney = async () => {
  const look = await lookUpPack(fleet.sydney, fleet.soldInSydney);
  return look.kind === "found" ? look.pack.cover.outcome : look.kind;
};

test("who sees, proposes and approves, by role: the proposer never, and cover whatever the date takes a manager", async () => {
  for (const actor of [fleet.bench, fleet.berlin, fleet.finance, fleet.administrator]) {
    expect(await listKnownIssues(actor), actor.role).toBeNull();
    expect(await findIssuePacks(actor, issueWith()), actor.role).toBeNull();
    expect(await proposeIssue(actor, issueWith()), actor.role).toMatchObject({ reason: "not-allowed" });
    expect(await settleIssueProposal(actor, "x", "approved"), actor.role).toMatchObject({ reason: "not-allowed" });
  }
  expect(await proposeIssue(fleet.lead, issueWith({ title: "Seen by the lead" }))).toEqual({ ok: true });
  const proposal = await proposalOf("Seen by the lead");
  expect(await settleIssueProposal(fleet.lead, proposal, "approved")).toMatchObject({ reason: "not-allowed" });
  expect(await settleIssueProposal(fleet.safetyOfficer, proposal, "approved")).toMatchObject({
    reason: "manager-missing",
  });
  expect(await settleIssueProposal(fleet.safetyOfficer, proposal, "dropped")).toEqual({ ok: true });
  expect(await settleIssueProposal(fleet.manager, proposal, "approved")).toMatchObject({ reason: "settled" });
  expect(await settleIssueProposal(fleet.manager, "no such", "approved")).toMatchObject({ reason: "not-found" });
});

test("from the approval on, and not before, a pack outside its dates is covered and the dealer is told what to do; closed, no longer", async () => {
  expect(await coverOfSydney()).toBe("outside-makers-guarantee");
  expect(await proposeIssue(fleet.manager, issueWith())).toEqual({ ok: true });
  const proposal = await proposalOf("Main leads work loose");
  expect(await settleIssueProposal(fleet.manager, proposal, "approved")).toMatchObject({ reason: "same-person" });
  expect(await coverOfSydney()).toBe("outside-makers-guarantee");
  const both = await Promise.all(
    [fleet.manager2, fleet.safetyOfficer].map((actor) => settleIssueProposal(actor, proposal, "approved")),
  );
  expect(both.filter(({ ok }) => ok)).toHaveLength(1);
  expect(await coverOfSydney()).toBe("covered-by-field-action");
  const look = await lookUpPack(fleet.berlin, fleet.soldInBerlin);
  expect(look).toMatchObject({
    pack: {
      openActions: expect.arrayContaining([
        { title: "Main leads work loose", action: "Do not ride. Send the pack in, whatever its age." },
      ]),
    },
  });
  const lodged = await lodgeReturn(fleet.berlin, filledForm(fleet.others[0] ?? fleet.unsold), new Date());
  if (!lodged.ok) throw new Error(JSON.stringify(lodged));
  const bench = await readBenchReturn(fleet.bench, lodged.reference);
  expect(JSON.stringify(bench?.check.known)).toContain("Main leads work loose");

  const { id } = await issueCalled("Main leads work loose");
  expect(await proposeClosing(fleet.bench, close(id))).toMatchObject({ reason: "not-allowed" });
  expect(await proposeClosing(fleet.lead, close(id, plusDays(today, -1)))).toMatchObject({ field: "validFrom" });
  expect(await proposeClosing(fleet.lead, close(id))).toEqual({ ok: true });
  expect(await proposeClosing(fleet.manager, close(id))).toMatchObject({ reason: "ends-already" });
  const end = await proposalOf("Main leads work loose");
  // Taking cover back is a manager's as giving it is.
  expect(await settleIssueProposal(fleet.safetyOfficer, end, "approved")).toMatchObject({ reason: "manager-missing" });
  expect(await settleIssueProposal(fleet.manager, end, "approved")).toEqual({ ok: true });
  expect(await coverOfSydney()).toBe("outside-makers-guarantee");
  expect(await proposeClosing(fleet.manager, close(id))).toMatchObject({ reason: "closed-already" });
  expect(await issueCalled("Main leads work loose")).toMatchObject({ state: "closed", closedOn: today });
});

test.for([
  [{ revision: "" }, "revision", /Name a revision/],
  [{ revision: "QP-Z" }, "revision", /No revision of this code/],
  [{ lot: "CELL-9" }, "lot", /No lot of this code/],
  [{ revision: "", set: "77" }, "set", /no set of this number/],
  [{ revision: "", set: "one" }, "set", /no set of this number/],
  [{ set: "1" }, "set", /leave revision and lot empty/],
  [{ revision: "QP-B" }, "revision", /No pack is like that/],
  [{ validFrom: plusDays(today, -1) }, "validFrom", /begins today or later/],
] as const)("what cannot be, %j, is refused at %s", async ([over, field, sentence]) => {
  const answer = await proposeIssue(fleet.manager, issueWith(over));
  expect(answer).toMatchObject({ ok: false, field, sentence: expect.stringMatching(sentence) });
});

test("a lot whose code two kinds share is asked for by its kind", async () => {
  await asSystem((tx) =>
    tx.lot.create({ data: { kind: "board", code: "CELL-1", supplier: "S9", receivedOn: new Date("2024-01-01") } }),
  );
  const named = { revision: "", lot: "CELL-1", set: "" };
  expect(await findIssuePacks(fleet.lead, named)).toMatchObject({ kind: "refused", reason: "lot-of-two-kinds" });
  const found = await findIssuePacks(fleet.lead, { ...named, lot: "cell CELL-1" });
  expect(found?.kind === "packs" ? found.packs.length : found).toBe(12);
  expect(await findIssuePacks(fleet.lead, { ...named, lot: "board CELL-1" })).toMatchObject({ reason: "no-pack" });
});

test("an issue bound to a set stops its packs alone from its first day on, and dealers who have one are told once", async () => {
  const named = { by: "revision", group: "QP-A", from: fleet.unsold, to: fleet.unsold };
  const set = { ...named, why: "One lead of this pack was changed by hand." };
  const proposed = await beginAffectedSet(fleet.lead, newSetSchema.parse({ ...set, as: "proposed" }));
  const frozen = await beginAffectedSet(fleet.manager, newSetSchema.parse({ ...set, as: "frozen" }));
  if (!proposed.ok || !frozen.ok) throw new Error(JSON.stringify([proposed, frozen]));
  const ofSet = (number: number) => ({ revision: "", lot: "", set: String(number) });
  expect(await findIssuePacks(fleet.lead, ofSet(proposed.number))).toMatchObject({ reason: "set-not-frozen" });
  const isStopped = async (serial: string) => {
    const { id, revisionId } = await asSystem((tx) => tx.pack.findUniqueOrThrow({ where: { serial } }));
    const stops = await asSystem((tx) => readStops(tx, { packId: id, revisionId }));
    return stops.some(({ title }) => title === "Leads changed by hand");
  };
  const asked = {
    ...ofSet(frozen.number),
    title: "Leads changed by hand",
    coversWhateverTheDate: "no",
    stopShip: "yes",
  };
  const tomorrow = await open({ ...asked, validFrom: plusDays(today, 1) });
  expect((await issueCalled("Leads changed by hand")).state).toBe("not-yet");
  expect(await isStopped(fleet.unsold)).toBe(false);
  expect(await tellOfStopsAsSystem()).toBe(0);
  // On its first day it stops, nothing else having changed.
  await asSystem((tx) => tx.knownIssue.update({ where: { id: tomorrow }, data: { openedOn: new Date(today) } }));
  expect([await isStopped(fleet.unsold), await isStopped(fleet.soldInBerlin)]).toEqual([true, false]);
  expect(await listOwnHeldBack(fleet.berlin)).toEqual([
    { serialShown: groupSerial(fleet.unsold), where: "in-stock", reference: null },
  ]);
  expect([await tellOfStopsAsSystem(), await tellOfStopsAsSystem()]).toEqual([1, 0]);
  const lead = await asSystem((tx) =>
    tx.notice.findFirstOrThrow({ where: { kind: "stop-opened", audienceRole: "service-lead" } }),
  );
  expect(noticePath("stop-opened", lead.reference, false)).toBe("/reliability/affected/sets");
  await asSystem((tx) =>
    tx.knownIssue.update({ where: { id: tomorrow }, data: { openedOn: new Date(plusDays(today, 1)) } }),
  );
});

test("another in its place ends the old one on its own first day, and both lie in one history", async () => {
  const old = await open({ title: "Fades early", coversWhateverTheDate: "no" });
  const instead = { title: "Fades early, new advice", coversWhateverTheDate: "no", insteadOf: old };
  const soon = plusDays(today, 3);
  await open({ ...instead, validFrom: soon });
  expect(await issueCalled("Fades early")).toMatchObject({ state: "open", closedOn: soon });
  expect(await issueCalled("Fades early, new advice")).toMatchObject({ state: "not-yet", openedOn: soon });
  expect(await proposeIssue(fleet.lead, issueWith(instead))).toMatchObject({ reason: "closed-already" });
});

test("past the program nobody opens, changes or ends an issue, and the chains show what the database's owner does", async () => {
  const { id: revisionId } = await asSystem((tx) => tx.revision.findUniqueOrThrow({ where: { code: "QP-A" } }));
  const row = { title: "By hand", action: "Nothing.", revisionId, faults: [], openedOn: new Date(today) };
  for (const actor of [fleet.lead, fleet.manager, fleet.safetyOfficer])
    await expect(asActor(actor, (tx) => tx.knownIssue.create({ data: row, select: { id: true } }))).rejects.toThrow(
      /opened and closed by an approved proposal/,
    );
  await expect(
    asActor(fleet.manager, (tx) => tx.knownIssue.updateMany({ data: { coversWhateverTheDate: true } })),
  ).rejects.toThrow(/permission denied/);
  const issue = await issueCalled("Main leads work loose");
  const other = await issueCalled("Cells of lot CELL-1 fade early");
  await expect(
    asActor(fleet.manager, (tx) =>
      tx.knownIssue.updateMany({ where: { id: other.id }, data: { closedOn: new Date(today) } }),
    ),
  ).rejects.toThrow(/opened and closed by an approved proposal/);
  await expectWrittenOnce(
    () => asSystem((tx) => tx.issueEntry.findMany({ orderBy: { id: "asc" } })),
    () => asSystem((tx) => tx.issueEntry.updateMany({ data: { why: "other words" } })),
  );
  await expect(asSystem((tx) => tx.issueProposal.updateMany({ data: { title: "Other words" } }))).rejects.toThrow(
    /never edited/,
  );

  const broken = async () =>
    (await verifyEveryChain()).broken
      .filter(({ chain }) => chain.startsWith("known issue"))
      .map(({ sentence }) => sentence);
  expect(await broken()).toEqual([]);
  expect((await verifyEveryChain()).knownIssues).toBeGreaterThan(3);
  const { id } = issue;
  await asSystem((tx) => tx.knownIssue.update({ where: { id }, data: { coversWhateverTheDate: false } }));
  expect(await broken()).toEqual(["It says otherwise than what two people opened."]);
  await asSystem((tx) =>
    tx.knownIssue.update({ where: { id }, data: { coversWhateverTheDate: true, closedOn: null } }),
  );
  expect(await broken()).toEqual(["It ends on another day than two people agreed."]);
});
