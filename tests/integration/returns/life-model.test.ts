import fc from "fast-check";
import { beforeAll, expect, test } from "vitest";
import type { Actor } from "@/lib/access/actor";
import { faultCodingSchema } from "@/lib/bench-tests/fault-coding.schema";
import { resultEntrySchema } from "@/lib/bench-tests/result-entry.schema";
import { recordTestResult, waiveTest } from "@/lib/data/bench-tests";
import { asSystem } from "@/lib/data/database";
import { codeFault } from "@/lib/data/fault-codings";
import { checkHistory, sha256 } from "@/lib/data/history";
import { lodgeReturn } from "@/lib/data/lodge-return";
import { makeMove } from "@/lib/data/move-return";
import { flagSafety, scanPack } from "@/lib/data/move-track";
import { waiveNoFault } from "@/lib/data/no-fault";
import { trackEntry } from "@/lib/data/track-rows";
import { caseMoves } from "@/lib/returns/case-moves";
import { type CustodyPlace, custodyPlaces, readCustodyPlace } from "@/lib/returns/custody-track";
import type { Decision } from "@/lib/returns/decision.schema";
import { type MoveName, moveNames } from "@/lib/returns/move-names";
import { isOpenStatus, type ReturnStatus, readReturnStatus } from "@/lib/returns/return-status";
import { isSetApart, readSafetyState, type SafetyState, safetyStates } from "@/lib/returns/safety-track";
import { verifyHistory } from "@/lib/returns/verify-history";
import { approveSmallFleetPlan } from "@/tests/support/bring-to-bench";
import { createSmallFleet, filledForm, type SmallFleet } from "@/tests/support/small-fleet";
import { withTestDatabase } from "@/tests/support/test-database";

withTestDatabase();

let fleet: SmallFleet;
let nextPack = 0;
let planId = "";
beforeAll(async () => {
  fleet = await createSmallFleet();
  // Two mandatory tests, so that chance comes past them; a longer list is tried in tests/integration/bench-tests.
  planId = await approveSmallFleetPlan(mandatory);
});

/** What the test itself believes; whatever the program does must fit it. */
interface Belief {
  status: ReturnStatus;
  version: number;
  safety: SafetyState;
  safetyVersion: number;
  custody: CustodyPlace;
  custodyVersion: number;
  /** Mandatory tests nobody has made or left out since the pack came to the bench. */
  openTests: string[];
  isCoded: boolean;
  /** The lead has left out what must be tried before anybody says that no fault was found. */
  mayFindNothing: boolean;
}

interface Real {
  readonly reference: string;
}

const people = ["berlin", "sydney", "bench", "bench2", "lead", "manager", "safetyOfficer", "finance"] as const;
type Who = (typeof people)[number];
const actorOf = (who: Who): Actor => fleet[who];

const mandatory = ["outside", "insulation"];
const coding = faultCodingSchema.parse({
  customerSaw: "unknown",
  found: "jumping-reading",
  part: "sense-wire",
  cause: "unknown",
  howSure: "likely",
});

const decisionOf = (remedy: Decision["remedy"], seenVersion: number): Decision => ({
  remedy,
  confirmedFault: remedy === "return-as-is" ? "no-fault-found" : "sense-wire",
  reason: "As measured on the bench.",
  seenVersion,
});

async function standing(reference: string) {
  return asSystem((tx) =>
    tx.return.findUniqueOrThrow({
      where: { reference },
      select: {
        status: true,
        version: true,
        lastMoveHash: true,
        moves: { orderBy: { sequence: "asc" } },
        pack: {
          select: {
            serial: true,
            tracks: { include: { moves: { orderBy: { sequence: "asc" } } } },
          },
        },
      },
    }),
  );
}

class CaseMove implements fc.AsyncCommand<Belief, Real> {
  readonly who: Who;
  readonly name: MoveName;
  readonly stale: boolean;
  readonly remedy: Decision["remedy"];
  constructor(who: Who, name: MoveName, stale: boolean, remedy: Decision["remedy"]) {
    this.who = who;
    this.name = name;
    this.stale = stale;
    this.remedy = remedy;
  }
  check() {
    return true;
  }
  async run(belief: Belief, { reference }: Real) {
    const seenVersion = this.stale ? belief.version - 1 : belief.version;
    const { serial } = (await standing(reference)).pack;
    const answer = await makeMove(actorOf(this.who), reference, {
      name: this.name,
      reason: "Because the test says so.",
      seenVersion,
      decision: this.name === "propose" ? decisionOf(this.remedy, seenVersion) : undefined,
      stated: {
        dueOn: "2026-10-12",
        transportClass: "damaged",
        packedAsTold: true,
        scannedSerial: serial,
        outgoingSerial: serial,
        quarantineMet: true,
        tests: "done",
        partsAndPlan: "A new lead.",
        releaseSignature: "A. Bench",
        packIsSafe: true,
        noticesGiven: true,
        logWasAskedFor: true,
      },
    });
    const after = await standing(reference);
    if (!answer.ok) {
      expect([after.status, after.version]).toEqual([belief.status, belief.version]);
      return;
    }
    made.add(this.name === "propose" ? `propose from ${belief.status}` : this.name);
    const { from, to, custodyTo } = caseMoves[this.name];
    expect(this.stale, `${this} on a stale version`).toBe(false);
    expect(from, `${this}`).toContain(belief.status);
    if (to !== null) expect(after.status).toBe(to);
    expect(after.version).toBe(belief.version + 1);
    // A pack that is set apart is not set in motion and not worked on; what arrives is recorded.
    if (custodyTo !== undefined && this.name !== "receive") expect(isSetApart(belief.safety), `${this}`).toBe(false);
    if (this.name === "propose" && belief.status === "under-test") {
      expect(belief.openTests, `${this} with tests open`).toEqual([]);
      expect(belief.isCoded, `${this} uncoded`).toBe(true);
    }
    if (this.name === "propose" && this.remedy === "return-as-is") {
      expect(belief.mayFindNothing, `${this} without looking for a fault`).toBe(true);
    }
    if (this.name === "start-test") Object.assign(belief, { openTests: [...mandatory], isCoded: false });
    if (["object", "reopen"].includes(this.name)) belief.mayFindNothing = false;
    if (custodyTo !== undefined && custodyTo !== belief.custody) {
      belief.custody = custodyTo;
      belief.custodyVersion += 1;
    }
    belief.status = readReturnStatus(after.status);
    belief.version += 1;
  }
  toString() {
    return `${this.who} ${this.name}${this.stale ? " (stale)" : ""} ${this.remedy}`;
  }
}

/** Somebody at the bench makes the next open test, leaves it out, codes the fault, or leaves the protocol out. */
class BenchWork implements fc.AsyncCommand<Belief, Real> {
  readonly who: Who;
  readonly work: "look" | "leave-out" | "code" | "find-nothing";
  constructor(who: Who, work: BenchWork["work"]) {
    this.who = who;
    this.work = work;
  }
  check() {
    return true;
  }
  async run(belief: Belief, { reference }: Real) {
    const actor = actorOf(this.who);
    const [testKey = "outside"] = belief.openTests;
    const isTheirs = ["bench", "bench2", "lead"].includes(this.who);
    const answer = await this.doIt(actor, reference, testKey);
    if (!answer.ok) return;
    expect(isTheirs, `${this}`).toBe(true);
    if (this.work === "find-nothing") {
      expect(this.who).toBe("lead");
      belief.mayFindNothing = true;
      return;
    }
    expect(belief.status, `${this}`).toBe("under-test");
    if (this.work === "code") belief.isCoded = true;
    else belief.openTests = belief.openTests.filter((key) => key !== testKey);
  }
  private async doIt(actor: Actor, reference: string, testKey: string): Promise<{ readonly ok: boolean }> {
    const asked = { reference, planId, testKey };
    switch (this.work) {
      case "look":
        return recordTestResult(actor, resultEntrySchema.parse({ ...asked, seen: "as-expected" }));
      case "leave-out":
        return waiveTest(actor, { ...asked, why: "Not what this test is about." });
      case "code": {
        const versions = await asSystem((tx) => tx.faultCoding.count({ where: { return: { reference } } }));
        return codeFault(actor, reference, coding, versions);
      }
      case "find-nothing":
        return waiveNoFault(actor, reference, "Not what this test is about.");
    }
  }
  toString() {
    return `${this.who} at the bench: ${this.work}`;
  }
}

class Flag implements fc.AsyncCommand<Belief, Real> {
  readonly who: Who;
  readonly to: SafetyState;
  constructor(who: Who, to: SafetyState) {
    this.who = who;
    this.to = to;
  }
  check() {
    return true;
  }
  async run(belief: Belief, { reference }: Real) {
    const request = { to: this.to, reason: "Seen on the pack.", seenVersion: belief.safetyVersion };
    const answer = await flagSafety(actorOf(this.who), reference, request);
    if (!answer.ok) return;
    const lowers = weight(this.to) <= weight(belief.safety);
    if (lowers) expect(this.who).toBe("safetyOfficer");
    belief.safety = this.to;
    belief.safetyVersion += 1;
  }
  toString() {
    return `${this.who} flags ${this.to}`;
  }
}

/** How grave, written out once more; a closed incident weighs like a pack to handle with care. */
function weight(state: SafetyState): number {
  const order: readonly SafetyState[][] = [
    ["normal"],
    ["caution", "incident-closed"],
    ["isolate"],
    ["do-not-move"],
    ["incident-open"],
  ];
  return order.findIndex((states) => states.includes(state));
}

class Scan implements fc.AsyncCommand<Belief, Real> {
  readonly who: Who;
  readonly to: CustodyPlace;
  constructor(who: Who, to: CustodyPlace) {
    this.who = who;
    this.to = to;
  }
  check() {
    return true;
  }
  async run(belief: Belief, { reference }: Real) {
    const request = { to: this.to, reason: "Scanned.", seenVersion: belief.custodyVersion };
    const answer = await scanPack(actorOf(this.who), reference, request);
    if (!answer.ok) return;
    const arrives =
      belief.custody.startsWith("with-carrier") ||
      ["missing", "with-customer"].includes(belief.custody) ||
      this.to === "missing";
    if (isSetApart(belief.safety) && !arrives)
      expect(this.to, "a pack set apart goes to quarantine only").toBe("quarantine");
    belief.custody = this.to;
    belief.custodyVersion += 1;
  }
  toString() {
    return `${this.who} scans ${this.to}`;
  }
}

const who = fc.constantFrom(...people);
const remedy = fc.constantFrom<Decision["remedy"]>("repair", "return-as-is", "isolate", "dispose", "redirect");
type Command = CaseMove | BenchWork | Flag | Scan;

const anything: fc.Arbitrary<Command> = fc.oneof(
  {
    weight: 5,
    arbitrary: fc
      .tuple(who, fc.constantFrom(...moveNames), fc.nat(9), remedy)
      .map(([person, name, luck, chosen]) => new CaseMove(person, name, luck === 0, chosen)),
  },
  {
    weight: 3,
    arbitrary: fc
      .tuple(who, fc.constantFrom<BenchWork["work"]>("look", "leave-out", "code", "find-nothing"))
      .map(([person, work]) => new BenchWork(person, work)),
  },
  {
    weight: 1,
    arbitrary: fc.tuple(who, fc.constantFrom(...safetyStates)).map(([person, to]) => new Flag(person, to)),
  },
  {
    weight: 1,
    arbitrary: fc.tuple(who, fc.constantFrom(...custodyPlaces)).map(([person, to]) => new Scan(person, to)),
  },
);

/** The usual way with one decision, proposed too early twice: chance alone would hardly come past the first step. */
function usualWay(chosen: Decision["remedy"]): Command[] {
  const move = (person: Who, name: MoveName) => new CaseMove(person, name, false, chosen);
  const bench = (work: BenchWork["work"]) => new BenchWork("bench", work);
  return [
    move("bench", "take"),
    move("lead", "approve-return"),
    move("berlin", "hand-to-carrier"),
    move("bench", "receive"),
    move("bench", "start-test"),
    move("bench", "propose"),
    bench("look"),
    bench("leave-out"),
    move("bench", "propose"),
    bench("code"),
    move("bench", "propose"),
    new BenchWork("lead", "find-nothing"),
    move("bench", "propose"),
    move("lead", "approve"),
    move("bench", "start-work"),
    move("bench", "finish-work"),
    move("berlin", "hand-back"),
    move("berlin", "object"),
  ];
}

/** The usual way with up to two other commands before each of its steps. */
const commands = remedy.chain((chosen) =>
  fc
    .tuple(...usualWay(chosen).map((step) => fc.array(anything, { maxLength: 2 }).map((before) => [...before, step])))
    .map((parts) => parts.flat()),
);

/** Moves that were made in any of the runs, so that a run that goes nowhere proves nothing unnoticed. */
const made = new Set<string>();

test("whoever does whatever: no forbidden state, no lost move, no broken chain, and a pack set apart stays", async () => {
  await fc.assert(
    fc.asyncProperty(commands, async (run) => {
      const serial = fleet.others[nextPack++ % fleet.others.length];
      if (serial === undefined) throw new Error("no pack");
      await endWhateverIsOpen(serial);
      const lodged = await lodgeReturn(fleet.berlin, filledForm(serial), new Date("2026-10-05T09:00:00Z"));
      if (!lodged.ok) throw new Error(JSON.stringify(lodged));
      const before = await standing(lodged.reference);
      const track = (name: string) => before.pack.tracks.find((one) => one.track === name);
      const belief: Belief = {
        status: "sent-in",
        version: 1,
        safety: readSafetyState(track("safety")?.state ?? "normal"),
        safetyVersion: track("safety")?.version ?? 0,
        custody: readCustodyPlace(track("custody")?.state ?? "with-dealer"),
        custodyVersion: track("custody")?.version ?? 0,
        openTests: [],
        isCoded: false,
        mayFindNothing: false,
      };
      await fc.asyncModelRun(() => ({ model: belief, real: { reference: lodged.reference } }), run);
      const after = await standing(lodged.reference);
      expect([after.status, after.version]).toEqual([belief.status, belief.version]);
      expect(checkHistory(after.moves, after.lastMoveHash)).toMatchObject({ kind: "sound", rows: belief.version });
      for (const { id, moves, lastHash, version, state, track: name } of after.pack.tracks) {
        const rows = moves.map((row) => ({ ...trackEntry(id, row), ...chainOf(row) }));
        expect(verifyHistory(rows, sha256, lastHash), name).toMatchObject({ kind: "sound", rows: version });
        expect(state).toBe(moves.at(-1)?.to);
      }
    }),
    { numRuns: 4, seed: 20261125, endOnFailure: true },
  );
  expect([...made]).toEqual(expect.arrayContaining(["start-test", "propose from under-test", "approve", "object"]));
}, 240_000);

function chainOf({ previousHash, hash }: { previousHash: string; hash: string }) {
  return { previousHash, hash, form: "track-history-1" as const };
}

/** Makes room for the next run with the same pack, past the program: a return that is open keeps others out. */
async function endWhateverIsOpen(serial: string): Promise<void> {
  await asSystem(async (tx) => {
    const rows = await tx.return.findMany({
      where: { pack: { serial } },
      select: { id: true, status: true, version: true },
    });
    for (const { id, status, version } of rows.filter((row) => isOpenStatus(row.status))) {
      await tx.return.update({ where: { id, status }, data: { status: "withdrawn", version: version + 1 } });
    }
  });
}
