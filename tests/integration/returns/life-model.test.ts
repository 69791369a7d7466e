import fc from "fast-check";
import { beforeAll, expect, test } from "vitest";
import type { Actor } from "@/lib/access/actor";
import { asSystem } from "@/lib/data/database";
import { checkHistory, sha256 } from "@/lib/data/history";
import { lodgeReturn } from "@/lib/data/lodge-return";
import { makeMove } from "@/lib/data/move-return";
import { flagSafety, scanPack } from "@/lib/data/move-track";
import { trackEntry } from "@/lib/data/track-rows";
import { caseMoves } from "@/lib/returns/case-moves";
import { type CustodyPlace, custodyPlaces, readCustodyPlace } from "@/lib/returns/custody-track";
import type { Decision } from "@/lib/returns/decision.schema";
import { type MoveName, moveNames } from "@/lib/returns/move-names";
import { isOpenStatus, type ReturnStatus, readReturnStatus } from "@/lib/returns/return-status";
import { isSetApart, readSafetyState, type SafetyState, safetyStates } from "@/lib/returns/safety-track";
import { verifyHistory } from "@/lib/returns/verify-history";
import { createSmallFleet, filledForm, type SmallFleet } from "@/tests/support/small-fleet";
import { withTestDatabase } from "@/tests/support/test-database";

withTestDatabase();

let fleet: SmallFleet;
let nextPack = 0;
beforeAll(async () => {
  fleet = await createSmallFleet();
});

/** What the test itself believes; whatever the program does must fit it. */
interface Belief {
  status: ReturnStatus;
  version: number;
  safety: SafetyState;
  safetyVersion: number;
  custody: CustodyPlace;
  custodyVersion: number;
}

interface Real {
  readonly reference: string;
}

const people = ["berlin", "sydney", "bench", "bench2", "lead", "manager", "safetyOfficer", "finance"] as const;
type Who = (typeof people)[number];
const actorOf = (who: Who): Actor => fleet[who];

const decisionOf = (remedy: Decision["remedy"], seenVersion: number): Decision => ({
  remedy,
  confirmedFault: "sense-wire",
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
        passedBuildLimits: true,
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
    const { from, to, custodyTo } = caseMoves[this.name];
    expect(this.stale, `${this} on a stale version`).toBe(false);
    expect(from, `${this}`).toContain(belief.status);
    if (to !== null) expect(after.status).toBe(to);
    expect(after.version).toBe(belief.version + 1);
    // A pack that is set apart is not set in motion and not worked on; what arrives is recorded.
    if (custodyTo !== undefined && this.name !== "receive") expect(isSetApart(belief.safety), `${this}`).toBe(false);
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
const commands = [
  fc
    .tuple(who, fc.constantFrom(...moveNames), fc.nat(9), remedy)
    .map(([person, name, luck, chosen]) => new CaseMove(person, name, luck === 0, chosen)),
  // The usual way, more often than chance would take it, so that the later states are reached too.
  fc
    .constantFrom<[Who, MoveName]>(
      ["bench", "take"],
      ["lead", "approve-return"],
      ["berlin", "hand-to-carrier"],
      ["bench", "receive"],
      ["bench", "start-test"],
      ["bench", "propose"],
      ["lead", "approve"],
      ["bench", "start-work"],
      ["bench", "finish-work"],
      ["berlin", "hand-back"],
      ["berlin", "object"],
    )
    .chain(([person, name]) => remedy.map((chosen) => new CaseMove(person, name, false, chosen))),
  fc.tuple(who, fc.constantFrom(...safetyStates)).map(([person, to]) => new Flag(person, to)),
  fc.tuple(who, fc.constantFrom(...custodyPlaces)).map(([person, to]) => new Scan(person, to)),
];

test("whoever does whatever: no forbidden state, no lost move, no broken chain, and a pack set apart stays", async () => {
  await fc.assert(
    fc.asyncProperty(fc.commands(commands, { maxCommands: 40, size: "max" }), async (run) => {
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
    { numRuns: 5, seed: 20261125, endOnFailure: true },
  );
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
