import { expect, test } from "vitest";
import { mintActor, roles } from "@/lib/access/actor";
import { type CustodyPlace, custodyPlaces, scanCustody } from "@/lib/returns/custody-track";
import { moveReturn } from "@/lib/returns/return-moves";
import { safetyStates } from "@/lib/returns/safety-track";
import { type CollectionStanding, collectPack } from "@/lib/returns/specialist-collection";
import { placeAfter } from "@/lib/returns/where-moves-lead";
import { calendarDate } from "@/lib/warranty/calendar";
import { actorOf } from "./any-actor";
import { standing } from "./any-standing";

const officer = actorOf("safety-officer");
const collection = {
  reason: "Collected by Holm Hazard Transport, paper number HT-17, on 2026-10-05.",
  collectedOn: calendarDate("2026-10-05"),
  keptAt: "",
  seenVersion: 1,
};
const lying = (state: CustodyPlace, over: Partial<CollectionStanding> = {}): CollectionStanding => ({
  state,
  version: 1,
  safety: "isolate",
  isOnHold: false,
  isHeldByIncident: false,
  today: calendarDate("2026-10-05"),
  ...over,
});

// Common practice, no source: what is liable to react dangerously is not shipped, it is isolated and collected by specialists.
const places: Readonly<Record<CustodyPlace, "moved" | "refused">> = {
  "with-customer": "moved",
  "with-dealer": "moved",
  "with-carrier-in": "refused",
  quarantine: "moved",
  bench: "moved",
  store: "moved",
  workshop: "moved",
  "with-carrier-out": "refused",
  supplier: "refused",
  recycler: "refused",
  specialist: "refused",
  missing: "refused",
};

test("a specialist collects a pack from where it lies, whatever its flag", () => {
  for (const place of custodyPlaces)
    for (const safety of safetyStates) {
      const keptAt = safety === "incident-open" ? "Holm's bunker 2" : "";
      const outcome = collectPack(officer, lying(place, { safety }), { ...collection, keptAt });
      expect(outcome.kind, `${place} ${safety}`).toBe(places[place]);
    }
  expect(collectPack(officer, lying("with-dealer", { safety: "do-not-move" }), collection)).toEqual({
    kind: "moved",
    from: "with-dealer",
    to: "specialist",
    version: 2,
  });
});

test("evidence stays: under a legal hold nothing is collected, under an open incident only what is kept whole somewhere", () => {
  const kept = { ...collection, keptAt: "Holm's bunker 2, until the incident is closed" };
  expect(collectPack(officer, lying("with-dealer", { isOnHold: true }), kept)).toMatchObject({ why: "on-hold" });
  for (const held of [{ isHeldByIncident: true }, { safety: "incident-open" }] as const) {
    const why = "evidence-place-missing";
    expect(collectPack(officer, lying("with-dealer", held), collection)).toMatchObject({ why });
    expect(collectPack(officer, lying("with-dealer", held), { ...collection, keptAt: "  " })).toMatchObject({ why });
    expect(collectPack(officer, lying("with-dealer", held), kept).kind).toBe("moved");
  }
});

test("whoever may lower a flag records it, a named deputy too, and nobody else", () => {
  const deputy = mintActor({ userId: "u1", name: "X", role: "service-lead", dealerId: null, isSafetyDeputy: true });
  expect(collectPack(deputy, lying("with-dealer"), collection).kind).toBe("moved");
  const allowed = roles.filter((role) => collectPack(actorOf(role), lying("with-dealer"), collection).kind === "moved");
  expect(allowed).toEqual(["safety-officer"]);
});

test("a day to come and a screen that is out of date are refused, one that is over is not", () => {
  const on = (day: string) => collectPack(officer, lying("bench"), { ...collection, collectedOn: calendarDate(day) });
  expect(on("2026-10-06")).toMatchObject({ why: "day-to-come" });
  expect(on("2026-10-01").kind).toBe("moved");
  expect(collectPack(officer, lying("bench", { version: 2 }), collection)).toMatchObject({
    why: "someone-changed-this",
  });
});

test("a disposal that was decided ends with what the specialist took away, its flag still up, and nothing else is asked for", () => {
  const finish = {
    name: "finish-work",
    reason: "Fetched.",
    seenVersion: 3,
    stated: { releaseSignature: "Lenka Holm" },
  } as const;
  const flagged = (custody: CustodyPlace) =>
    standing({ status: "work-in-progress", decidedRemedy: "dispose", safety: "isolate", custody });
  const lead = actorOf("service-lead");
  expect(moveReturn(lead, flagged("with-dealer"), finish)).toMatchObject({ why: "safety-open" });
  expect(moveReturn(lead, flagged("specialist"), finish)).toMatchObject({ kind: "moved", to: "ready-to-hand-back" });
  expect(placeAfter("finish-work", flagged("specialist"))).toBeNull();
  const plan = {
    name: "start-work",
    reason: "",
    seenVersion: 3,
    stated: { partsAndPlan: "Fetched already." },
  } as const;
  const decided = (custody: CustodyPlace) => ({ ...flagged(custody), status: "decided" as const });
  expect(moveReturn(lead, decided("with-dealer"), plan)).toMatchObject({ why: "safety-open" });
  expect(moveReturn(lead, decided("specialist"), plan)).toMatchObject({ kind: "moved", to: "work-in-progress" });
});

test("no scan says that a specialist has it, and none fetches it back from there", () => {
  const scanned = { isOnHold: false, decidedRemedy: "dispose", customerAgreed: false, quarantineMet: true } as const;
  const scan = { ...scanned, version: 1, safety: "normal", outgoing: null, status: "decided" } as const;
  const ask = (to: CustodyPlace) => ({ to, reason: "Seen.", seenVersion: 1 });
  for (const role of roles)
    for (const place of custodyPlaces) {
      expect(scanCustody(actorOf(role), { ...scan, state: place }, ask("specialist")).kind).toBe("refused");
      expect(scanCustody(actorOf(role), { ...scan, state: "specialist" }, ask(place)).kind).toBe("refused");
    }
});
