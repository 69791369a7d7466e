import { expect, test } from "vitest";
import { makeSerial } from "@/lib/packs/serial";
import { arrivalSchema, handSigns } from "@/lib/receiving/arrival.schema";
import { dangerInHand } from "@/lib/receiving/danger-in-hand";
import { emergencyCard } from "@/lib/receiving/emergency-card";
import { checkIdentity } from "@/lib/receiving/identity-check";
import { missingFaces } from "@/lib/receiving/pack-faces";
import { judgeLegibility, laplacianSharpness } from "@/lib/receiving/photo-legibility";
import { isOverdue, mayPlace, mayRelease } from "@/lib/receiving/quarantine";
import { overdueCall } from "@/lib/receiving/watch-calls";
import { watchFormSchema } from "@/lib/receiving/watch-form.schema";
import { neededWatchHours } from "@/lib/receiving/watch-hours";
import { currentWatch, watchTasks, watchVerdict } from "@/lib/receiving/watch-readings";
import { isSetApart } from "@/lib/returns/safety-track";

const serialOf = (sequence: number) => makeSerial({ model: "QP", buildYear: 2024, buildWeek: 2, sequence });
const arrivedAt = new Date("2026-10-05T09:00:00Z");
const after = (hours: number) => new Date(arrivedAt.getTime() + hours * 3_600_000);
const reading = (hours: number, surfaceC: number, terminalV: number | null = 54, ambientC = 20) => ({
  at: after(hours),
  surfaceC,
  ambientC,
  terminalV,
  noVoltageBecause: null as string | null,
});

test("the pack in the box is the pack of the return, another one, or cannot be told", () => {
  expect(checkIdentity(serialOf(1).toLowerCase(), serialOf(1)).kind).toBe("match");
  const other = checkIdentity(serialOf(2), serialOf(1));
  expect(other.kind === "other-pack" ? other.sentence : "").toMatch(/The pack says QP-.*lodged for QP-/);
  expect(checkIdentity("QP-2402-0001-X", serialOf(1)).kind).toBe("unreadable");
});

test("six faces are asked for; a photograph of the label does not stand for one", () => {
  const five = ["top", "bottom", "front", "back", "left", "label"].map((view) => ({ view, takenAt: arrivedAt }));
  expect(missingFaces(five, arrivedAt)).toEqual(["right"]);
  // Photographed before it came in, they show the pack as it came the last time, or another one.
  expect(missingFaces(five, new Date(arrivedAt.getTime() + 1))).toHaveLength(6);
  expect(missingFaces(five, null)).toEqual(["right"]);
});

test("a reading serves the task that was due when it was taken, and no other", () => {
  const states = (hours: number[], now: number) =>
    watchTasks(
      arrivedAt,
      hours.map((hour) => reading(hour, 21)),
      24,
      after(now),
    ).map(({ state }) => state);
  expect(states([], 0.2)).toEqual(["due", "later", "later"]);
  expect(states([], 0.8)).toEqual(["overdue", "later", "later"]);
  expect(states([0.1, 1.1], 5)).toEqual(["done", "done", "later"]);
  expect(states([24.5], 25)).toEqual(["overdue", "overdue", "done"]);
  expect(states([0.1, 1.1], 28)).toEqual(["done", "done", "overdue"]);
});

test("the rise rule: warmth over the room, a gain, or a fall of the voltage gives an alarm", () => {
  expect(watchVerdict([reading(0, 23)], 24).kind).toBe("too-short");
  expect(watchVerdict([reading(0, 23.1)], 24).kind).toBe("alarm");
  expect(watchVerdict([reading(0, 18), reading(1, 21.5)], 24).kind).toBe("alarm");
  expect(watchVerdict([reading(0, 20), reading(24, 21, 53)], 24).kind).toBe("alarm");
  expect(watchVerdict([reading(0, 20), reading(24, 21, 53.6)], 24).kind).toBe("steady");
  // A warm room is not a warm pack.
  expect(watchVerdict([reading(0, 20), reading(24, 30, 54, 29)], 24).kind).toBe("steady");
  expect(watchVerdict([], 24).kind).toBe("nothing-measured");
});

const place = { code: "Q1", maxPacks: 2, maxEnergyKwh: 5, minimumHours: 24, overdueAfterHours: 72 };

test("a place takes packs up to its number and its energy, and the limit itself still fits", () => {
  const staying = [{ energyKwh: 2.5, placedAt: arrivedAt }];
  expect(mayPlace(place, staying, 2.5).kind).toBe("fits");
  expect(mayPlace(place, staying, 2.6)).toMatchObject({ why: "too-much-energy" });
  expect(mayPlace(place, [...staying, ...staying], 0.1)).toMatchObject({ why: "too-many-packs" });
});

test("a pack leaves quarantine when its hours are over and it was steady, and never under an alarm or a hold", () => {
  const steady = { kind: "steady", overHours: 24 } as const;
  const flag = "normal" as const;
  const done = { afterHours: 1, dueAt: after(1), overdueFrom: after(1.5), state: "done" } as const;
  const now = { frozenBecause: [], flag, identityOpen: false, missingFaces: [], noFacesBecause: null, tasks: [done] };
  const facts = { place, placedAt: arrivedAt, neededHours: 24, verdict: steady, ...now };
  expect(mayRelease(facts, after(24)).kind).toBe("released");
  expect(mayRelease(facts, after(23.9))).toMatchObject({ why: "too-early" });
  expect(mayRelease({ ...facts, verdict: { kind: "too-short", overHours: 2 } }, after(30))).toMatchObject({
    why: "not-watched",
  });
  expect(mayRelease({ ...facts, verdict: { kind: "alarm", because: ["Hot."] } }, after(1))).toMatchObject({
    why: "alarm",
  });
  expect(mayRelease({ ...facts, frozenBecause: ["Held."] }, after(30))).toMatchObject({ why: "frozen" });
  expect(mayRelease({ ...facts, flag: "isolate" }, after(30))).toMatchObject({ why: "set-apart" });
  expect(mayRelease({ ...facts, tasks: [{ ...done, state: "overdue" }] }, after(30))).toMatchObject({
    why: "measurement-missed",
  });
  expect(mayRelease({ ...facts, flag: "caution" }, after(30)).kind).toBe("released");
  expect(mayRelease({ ...facts, identityOpen: true }, after(30))).toMatchObject({ why: "identity-open" });
  const unseen = { ...facts, missingFaces: ["top", "left side"] };
  expect(mayRelease(unseen, after(30))).toMatchObject({
    why: "faces-missing",
    sentence: expect.stringContaining("top, left side"),
  });
  expect(mayRelease({ ...unseen, noFacesBecause: "The camera was broken." }, after(30)).kind).toBe("released");
  expect([isOverdue(place, 24, arrivedAt, after(72)), isOverdue(place, 24, arrivedAt, after(72.1))]).toEqual([
    false,
    true,
  ]);
  // Watched for 72 h instead of the place's 24: nobody may take it out before, so the alarm waits as long.
  expect([isOverdue(place, 72, arrivedAt, after(120)), isOverdue(place, 72, arrivedAt, after(120.1))]).toEqual([
    false,
    true,
  ]);
});

test("a measurement that nobody takes is told of at once, every four hours, and to the safety officer from the second time", () => {
  const calls = (readings: ReturnType<typeof reading>[], hours: number) =>
    overdueCall(watchTasks(arrivedAt, readings, 24, after(hours)), after(hours));
  const first = [reading(0.1, 20)];
  expect(calls(first, 1.4)).toBeNull();
  expect(calls(first, 1.6)).toEqual({ afterHours: 1, call: 1, isForSafety: false });
  expect(calls(first, 5.4)).toMatchObject({ call: 1 });
  expect(calls(first, 5.6)).toEqual({ afterHours: 1, call: 2, isForSafety: true });
  expect(calls([...first, reading(1.2, 20)], 26.9)).toBeNull();
  expect(calls([...first, reading(1.2, 20)], 27.1)).toMatchObject({ afterHours: 24, call: 1 });
  expect(calls([...first, reading(1.2, 20), reading(24.1, 20)], 99)).toBeNull();
});

test("an even surface has no sharpness, a chequered one has much, and small pictures are named", () => {
  expect(laplacianSharpness(new Uint8Array(25).fill(90), 5, 5)).toBe(0);
  // By hand: every inner pixel of a chequer of 0 and 10 differs by 10 from each of its four neighbours.
  const chequer = Uint8Array.from({ length: 25 }, (_, index) => (index % 2) * 10);
  expect(laplacianSharpness(chequer, 5, 5)).toBe(40);
  expect(laplacianSharpness(new Uint8Array(4), 2, 2)).toBe(0);
  expect(judgeLegibility(1600, 899, 20).kind).toBe("too-small");
  expect(judgeLegibility(1600, 1200, 1).kind).toBe("perhaps-blurred");
  expect(judgeLegibility(1600, 1200, 20).kind).toBe("fair");
});

test("signs are chosen or denied, never left open", () => {
  const form = { scanned: "x", boxCondition: "sound" };
  expect(arrivalSchema.safeParse(form).success).toBe(false);
  expect(arrivalSchema.safeParse({ ...form, noSigns: true }).success).toBe(true);
  expect(arrivalSchema.safeParse({ ...form, noSigns: true, signs: ["warm"] }).success).toBe(false);
});

test("the emergency card puts the fire service before itself", () => {
  const card = emergencyCard({
    placeCode: "Q1",
    whereItIs: "Yard",
    emergencyNumber: "112",
    onCall: "Porter",
    extinguishing: "Water hose",
    assemblyPoint: "Gate",
  });
  expect(card.deferral).toMatch(/fire service and the local rules come before/);
  expect(card.facts.map(({ detail }) => detail)).toContain("112");
});

test("every sign seen with the pack in hand sets it apart, what goes on now forbids to move it, and no sign says nothing", () => {
  expect(dangerInHand([])).toBeNull();
  for (const sign of handSigns) expect(isSetApart(dangerInHand([sign])?.flag ?? "normal"), sign).toBe(true);
  expect(dangerInHand(["swollen", "noise"])).toMatchObject({ flag: "do-not-move", incident: ["venting", "swelling"] });
  expect(dangerInHand(["noise", "swollen"])?.flag).toBe("do-not-move");
  // A dent or water alone raises no incident, as with a dealer's sign.
  expect(dangerInHand(["case-broken", "wet-inside"])).toMatchObject({ flag: "isolate", incident: [] });
});

test("a watch begun anew counts from then, with what is measured from then on", () => {
  const readings = [reading(0.1, 20), reading(24, 30), reading(26, 20)];
  expect(currentWatch(arrivedAt, [], readings)).toEqual({ startedAt: arrivedAt, readings });
  const anew = currentWatch(arrivedAt, [after(25), after(24.5)], readings);
  expect(anew).toEqual({ startedAt: after(25), readings: [reading(26, 20)] });
  expect(watchVerdict(anew.readings, 24).kind).toBe("too-short");
});

test("a decimal comma in a measurement is read as the point, and an empty voltage as none", () => {
  const typed = { surfaceC: "21,5", ambientC: "20.0", terminalV: "" };
  const why = { noVoltageBecause: "The terminals are wet." };
  expect(watchFormSchema.parse({ ...typed, ...why })).toEqual({
    surfaceC: 21.5,
    ambientC: 20,
    terminalV: null,
    ...why,
  });
  expect(watchFormSchema.safeParse(typed).success).toBe(false);
  expect(watchFormSchema.parse({ ...typed, ...why, terminalV: "52" }).noVoltageBecause).toBeNull();
  expect(watchFormSchema.parse({ ...typed, terminalV: "52,31" }).terminalV).toBe(52.31);
  expect(watchFormSchema.safeParse({ ...typed, surfaceC: "warm" }).success).toBe(false);
});

test("steady needs a voltage at the beginning and the end, or the reason why it was not safe to connect", () => {
  const ends = (first: number | null, last: number | null) => [
    reading(0, 20, first),
    reading(1, 20),
    reading(24, 20, last),
  ];
  for (const [first, last] of [
    [null, 54],
    [54, null],
    [null, null],
  ] as const) {
    expect(watchVerdict(ends(first, last), 24).kind).toBe("no-voltage");
    const said = ends(first, last).map((one) => ({ ...one, noVoltageBecause: one.terminalV === null ? "Wet." : null }));
    expect(watchVerdict(said, 24).kind).toBe("steady");
  }
  const facts = {
    place,
    placedAt: arrivedAt,
    neededHours: 24,
    frozenBecause: [],
    flag: "normal",
    identityOpen: false,
    missingFaces: [],
    noFacesBecause: null,
    tasks: [],
  } as const;
  expect(mayRelease({ ...facts, verdict: watchVerdict(ends(null, null), 24) }, after(30))).toMatchObject({
    why: "not-watched",
    sentence: expect.stringContaining("voltage was not measured"),
  });
});

const nothingSeen = { dangerSigns: [], conditions: [], handSigns: [], boxCondition: "sound", wasToldSince: false };

// "Watch at least 24 h (72 h after immersion/impact)": reference/diagnostics.md 3.6, [D], an engineering default.
test.each([
  ["nothing of the kind", { dangerSigns: ["swollen"], conditions: ["in-the-wet"], handSigns: ["warm"] }, 24],
  [
    "a fall, crash or water told by the dealer",
    { dangerSigns: ["impact-or-water"], conditions: [], handSigns: [] },
    72,
  ],
  ["the complaint began with a crash", { dangerSigns: [], conditions: ["after-crash-or-drop"], handSigns: [] }, 72],
  ["a broken case seen at goods-in", { dangerSigns: [], conditions: [], handSigns: ["case-broken"] }, 72],
  ["water seen inside at goods-in", { dangerSigns: [], conditions: [], handSigns: ["wet-inside"] }, 72],
  ["a box damaged on the way", { ...nothingSeen, boxCondition: "damaged" }, 72],
  ["a wet box", { ...nothingSeen, boxCondition: "wet" }, 72],
  ["an opened box", { ...nothingSeen, boxCondition: "opened" }, 24],
  // Whether somebody fell with it or it lay in water, no program reads out of words.
  ["a danger told in words since", { ...nothingSeen, wasToldSince: true }, 72],
])("a pack is watched as long as what happened to it asks: %s", (_what, signs, hours) => {
  expect(neededWatchHours({ ...nothingSeen, ...signs })).toBe(hours);
});

test("a pack that fell is measured at 72 hours too, and does not leave before", () => {
  expect(watchTasks(arrivedAt, [], 72, after(0)).map(({ afterHours }) => afterHours)).toEqual([0, 1, 24, 72]);
  const day = [reading(0, 20), reading(1, 20), reading(24, 20)];
  expect(watchVerdict(day, 72).kind).toBe("too-short");
  expect(watchVerdict([...day, reading(72, 20)], 72).kind).toBe("steady");
  const steady = { kind: "steady", overHours: 72 } as const;
  const facts = {
    place,
    placedAt: arrivedAt,
    neededHours: 72,
    verdict: steady,
    frozenBecause: [],
    flag: "normal",
    identityOpen: false,
    missingFaces: [],
    noFacesBecause: null,
    tasks: [],
  } as const;
  expect(mayRelease(facts, after(71))).toMatchObject({
    why: "too-early",
    sentence: expect.stringContaining("72 hours"),
  });
  expect(mayRelease(facts, after(72)).kind).toBe("released");
});
