import { mintActor, type Role } from "@/lib/access/actor";
import { asSystem } from "@/lib/data/database";
import { quarantinePlaceSchema, setQuarantinePlace } from "@/lib/data/receiving/quarantine-places";
import { placeInQuarantine, recordArrival, recordWatch, releaseFromQuarantine } from "@/lib/data/receiving/receiving";
import { makeMove } from "@/lib/data/returns/move-return";
import { openIncidentForReturn } from "@/lib/data/safety/open-incident";
import { declareTransportClass } from "@/lib/data/transport/declare-transport";
import { confirmTransportRules, readRulesInForce } from "@/lib/data/transport/transport-rules";
import { arrivalSchema } from "@/lib/receiving/arrival.schema";

interface Person {
  readonly userId: string;
  readonly name: string;
  readonly role: Role;
}

const HOUR_MS = 3_600_000;
/** Returns of the story with a declared class, newest first. */
const DECLARED_RETURNS = 3;

const places = [
  {
    code: "Q1",
    whereItIs: "Yard, concrete boxes behind the fire wall",
    maxPacks: "6",
    maxEnergyKwh: "9",
    minimumHours: "24",
    overdueAfterHours: "96",
  },
  {
    code: "Q2",
    whereItIs: "Container at the fence, 12 m from the hall",
    maxPacks: "2",
    maxEnergyKwh: "4",
    minimumHours: "72",
    overdueAfterHours: "168",
  },
] as const;

/**
 * The safety side of the scenario: rules confirmed by an invented adviser, two quarantine places, an incident for every
 * open return whose signs raise one, a declared class, and packs in quarantine, all through the program's own functions.
 */
export async function loadSafety(people: ReadonlyMap<string, Person>): Promise<void> {
  const as = (role: Role) => {
    const person = [...people.values()].find((one) => one.role === role);
    if (person === undefined) throw new RangeError(`the scenario has nobody who is ${role}`);
    return mintActor({ ...person, dealerId: null });
  };
  const [officer, lead, bench] = [as("safety-officer"), as("service-lead"), as("technician")];
  const last = await asSystem((tx) =>
    tx.return.findFirstOrThrow({ orderBy: { lodgedAt: "desc" }, select: { lodgedAt: true } }),
  );
  const now = new Date(last.lodgedAt.getTime() + 48 * HOUR_MS);
  await confirmTransportRules(
    officer,
    (await readRulesInForce(officer, now)).fingerprint,
    {
      adviserName: "Hanneke Vossbruch (invented)",
      adviserQualification: "Safety adviser's certificate of the demo, until 31 December 2028",
      statement: "Demo only: nobody has compared these sentences with the texts in force.",
    },
    now,
  );
  for (const place of places) {
    const settings = quarantinePlaceSchema.parse({
      ...place,
      emergencyNumber: "112",
      onCall: "Gatehouse, extension 112",
      extinguishing: "Hydrant beside the gate; the fire service brings its own container",
      assemblyPoint: "Car park at the gate",
    });
    await setQuarantinePlace(officer, settings, now);
  }
  const open = await asSystem((tx) =>
    tx.return.findMany({
      where: { status: { in: ["sent-in", "in-review"] } },
      orderBy: { lodgedAt: "desc" },
      select: {
        id: true,
        reference: true,
        status: true,
        version: true,
        lodgedAt: true,
        dangerSigns: true,
        pack: { select: { serial: true } },
      },
    }),
  );
  for (const { id, lodgedAt } of open) {
    await asSystem((tx) => openIncidentForReturn(tx, { userId: "scenario", name: "Dealer's form" }, id, lodgedAt));
  }
  const calm = open.filter(({ dangerSigns }) => dangerSigns.length === 0);
  let declaredSoFar = 0;
  for (const { reference, status, version } of calm) {
    const declared = await declareTransportClass(
      lead,
      reference,
      {
        transportClass: "damaged",
        criteria: nothingExamined,
        inEquipment: false,
        leg: "to-maker",
        consignee: "",
        reason: "Judged from the form and the readings; nobody here had it in hand.",
        seenDeclarations: 0,
      },
      now,
    );
    // What its readings set apart is not declared until the safety officer has judged it.
    if (!declared.ok) continue;
    declaredSoFar += 1;
    // The last has its class and waits for leave: a class alone is no permission.
    if (declaredSoFar === DECLARED_RETURNS) break;
    const taken = { name: "take", reason: "", seenVersion: version } as const;
    if (status === "sent-in") await makeMove(bench, reference, taken, now);
    const seenVersion = status === "sent-in" ? version + 1 : version;
    const leave = { name: "approve-return", reason: "To be tested here.", seenVersion } as const;
    const approved = await makeMove(lead, reference, leave, now);
    if (!approved.ok) throw new Error(`${reference}: ${approved.sentence}`);
  }
  const sentIn = await asSystem((tx) =>
    tx.return.findMany({
      // One that fell or was in water is watched for 72 hours, longer than the story takes to the bench.
      where: {
        status: { in: ["return-expected", "at-the-works", "under-test"] },
        NOT: [{ dangerSigns: { has: "impact-or-water" } }, { conditions: { has: "after-crash-or-drop" } }],
      },
      orderBy: { lodgedAt: "desc" },
      select: {
        reference: true,
        pack: { select: { serial: true } },
        moves: { where: { move: { in: ["receive", "start-test"] } }, select: { move: true, at: true } },
      },
      take: 3,
    }),
  );
  for (const [index, { reference, pack, moves }] of sentIn.entries()) {
    const movedAt = (name: string) => moves.find(({ move }) => move === name)?.at ?? null;
    const arrivedAt = movedAt("receive") ?? new Date(now.getTime() - (30 - 14 * index) * HOUR_MS);
    const testedAt = movedAt("start-test");
    const isDamaged = index === 2 && testedAt === null;
    const arrival = arrivalSchema.parse({
      scanned: pack.serial,
      boxCondition: isDamaged ? "damaged" : "sound",
      signs: isDamaged ? ["case-broken"] : [],
      noSigns: !isDamaged,
    });
    await recordArrival(bench, reference, arrival, arrivedAt);
    await placeInQuarantine(bench, reference, isDamaged ? "Q2" : "Q1", arrivedAt);
    for (const [hours, surfaceC] of [
      [0.1, 19],
      [1.1, 19.4],
      ...(testedAt === null ? [] : [[24.1, 18.8] as const]),
    ] as const) {
      const at = new Date(arrivedAt.getTime() + hours * HOUR_MS);
      await recordWatch(bench, reference, { at, surfaceC, ambientC: 18.5, terminalV: 52.3, noVoltageBecause: null });
    }
    if (testedAt === null) continue;
    const released = await releaseFromQuarantine(
      bench,
      reference,
      { noFacesBecause: "The camera of goods-in was at the repairer's that week." },
      testedAt,
    );
    if (!released.ok) throw new Error(`${reference}: ${released.sentence}`);
  }
}

const nothingExamined = {
  "acute-hazard": "not-examined",
  "use-or-misuse": "not-examined",
  "physical-damage": "not-examined",
  "short-circuit-protection": "not-examined",
  "safety-features": "not-examined",
  "internal-safety-components": "not-examined",
} as const;
