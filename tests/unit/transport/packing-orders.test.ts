import { expect, test } from "vitest";
import { packingOrders } from "@/lib/transport/packing-orders";
import { LEGS_ARE_DECIDED, trackOf, WHO_DECIDES } from "@/lib/transport/route";
import { transportRulesSchema } from "@/lib/transport/rule-set.schema";
import { sayMark } from "@/lib/transport/sourced-text";
import { usedBatteryStatement } from "@/lib/transport/used-battery-statement";
import { firstTransportRules } from "@/tests/support/first-transport-rules";

const transportRules = firstTransportRules();

function orders(change: Partial<Parameters<typeof packingOrders>[1]> = {}) {
  return packingOrders(transportRules, {
    transportClass: "damaged",
    massKg: 17,
    fromCountry: "DE",
    toCountry: "DE",
    inEquipment: false,
    ...change,
  });
}

function packed(change: Parameters<typeof orders>[0] = {}) {
  const found = orders(change);
  if (found.kind !== "pack") throw new Error(`no packing orders: ${found.kind}`);
  return found;
}

// Sources: ADR 2025 SP 376 and P911 (German text, gefahrgutbrumme.de), P908 (ADR 2015, dell-con.com), LP904, the lithium
// battery transport e-book of batteriestransport.org (pp. 21, 22, 40, 144, 155), 49 CFR 173.185(f) as quoted by PHMSA and
// lion.com, Regulation (EU) 2023/1542 Annex XIV (gesetze.legal).
test("P908, or LP904 for one large battery, packing group II, for a damaged battery that is not liable to react", () => {
  const { packing, unNumber } = packed();
  expect([packing.instruction, packing.largeInstruction, unNumber]).toEqual(["P908", "LP904", "UN 3480"]);
  expect(packing.level.text).toContain("packing group II");
  expect(packing.level.mark).toMatchObject({ kind: "read" });
  const contents = packing.contents.map(({ text }) => text).join(" ");
  for (const clause of [
    /singly/,
    /leak-proof/,
    /not burn and does not conduct/,
    /venting device/,
    /movement/,
    /absorbent/,
    /4H2/,
  ]) {
    expect(contents).toMatch(clause);
  }
});

test("the package mark of special provision 376 stands letter by letter", () => {
  expect(packed().marks.map(({ text }) => text)).toContain("DAMAGED/DEFECTIVE LITHIUM-ION BATTERIES");
});

test("the mark of 49 CFR 173.185(f) stands letter by letter, in letters of 12 mm, which nobody has compared", () => {
  const us = packed({ fromCountry: "US" });
  expect(us.packing.instruction).toBe("49 CFR 173.185(f)");
  expect(us.marks[0]).toMatchObject({ text: "Damaged/defective lithium ion battery", letterHeightMm: 12 });
  expect(us.packing.level.text).toContain("packing group I.");
  expect(us.packing.contents.map(({ text }) => text).join(" ")).toMatch(/non-metallic inner packaging/);
  expect(us.marks[0]?.mark).toMatchObject({ kind: "read" });
  expect(us.marks[0]?.heightMark).toEqual({ kind: "from-memory", compareWith: "49 CFR 173.185(f)" });
  expect(us.remarks.find(({ text }) => text.includes("12 mm"))?.mark).toMatchObject({ kind: "from-memory" });
});

test("a way between two sets of rules names both, says who decides, and asks for that decision before the pack leaves", () => {
  const { route, checklist, trackName, packing } = packed({ fromCountry: "US", toCountry: "DE" });
  expect([trackName, packing.instruction]).toEqual(["United States (49 CFR 173.185)", "49 CFR 173.185(f)"]);
  const said = route?.sentences.map(({ text }) => text).join(" ") ?? "";
  expect(said).toContain("United States (49 CFR 173.185)");
  expect(said).toContain("Road and rail (ADR/RID), sea (IMDG)");
  expect(said).toContain(WHO_DECIDES);
  expect(route?.other?.packing?.instruction).toBe("P908");
  expect(route?.other?.packing?.marks.map(({ text }) => text)).toEqual([
    "DAMAGED/DEFECTIVE LITHIUM-ION BATTERIES",
    expect.stringMatching(/9A/),
    "UN 3480",
  ]);
  expect(route?.other?.remarks.map(({ text }) => text).join(" ")).toMatch(/At sea: stowage category C/);
  expect(checklist.at(-1)?.text).toBe(LEGS_ARE_DECIDED);
});

test("no way is packed in silence by the rules of one end alone", () => {
  const countries = [...transportRules.tracks.flatMap((track) => track.countries), "JP", null];
  for (const fromCountry of countries) {
    for (const toCountry of countries) {
      for (const transportClass of ["damaged", "not-damaged", "do-not-ship"] as const) {
        const found = orders({ transportClass, fromCountry, toCountry });
        if (found.kind === "no-rules-for-country") continue;
        const tracks = [fromCountry, toCountry].map((country) => trackOf(transportRules, country));
        const isOneTrack = tracks[0] !== null && tracks[0] === tracks[1];
        const way = `${fromCountry} to ${toCountry}, ${transportClass}`;
        expect(found.route === null, way).toBe(isOneTrack);
        if (found.route === null) continue;
        expect(found.route.sentences.at(-1)?.text, way).toBe(WHO_DECIDES);
        if (tracks[0] !== null && tracks[1] !== null) expect(found.route.other?.trackName, way).toBe(tracks[1]?.name);
      }
    }
  }
});

test("within one set of rules nothing is said of another, and the checklist is that of the rules", () => {
  const { route, checklist } = packed({ fromCountry: "GB", toCountry: "DE" });
  expect(route).toBeNull();
  expect(checklist).toEqual(transportRules.checklist);
});

test("the transport document names the goods of the entry that travels, also of a damaged pack", () => {
  for (const fromCountry of ["DE", "US", "AU"]) {
    for (const transportClass of ["damaged", "not-damaged"] as const) {
      for (const [inEquipment, goods] of [
        [false, "UN 3480, LITHIUM ION BATTERIES, 9"],
        [true, "UN 3481, LITHIUM ION BATTERIES CONTAINED IN EQUIPMENT, 9"],
      ] as const) {
        const { documentEntries } = packed({ fromCountry, transportClass, inEquipment }).packing;
        const lines = documentEntries.filter(({ text }) => text.startsWith(goods));
        expect(lines, `${fromCountry} ${transportClass} ${goods}`).toHaveLength(1);
        expect(lines[0]?.mark).toMatchObject({ kind: "from-memory" });
      }
    }
  }
});

test("a battery above 30 kg net goes alone, one of 30 kg need not by that rule", () => {
  expect(packed({ massKg: 30 }).alone).toBeNull();
  expect(packed({ massKg: 30.1 }).alone?.mark).toMatchObject({ kind: "read" });
});

test("P911 or LP906 is named for a battery liable to react, and nothing can be packed by it here", () => {
  const found = orders({ transportClass: "do-not-ship" });
  expect(found.kind).toBe("do-not-ship");
  if (found.kind !== "do-not-ship") return;
  expect(found.rules.map(({ text }) => text).join(" ")).toMatch(/P911.*LP906.*competent authority/);
});

test("no class and no country opens the way by air", () => {
  for (const fromCountry of ["DE", "US", "AU"]) {
    for (const transportClass of ["damaged", "not-damaged", "do-not-ship"] as const) {
      const found = orders({ transportClass, fromCountry });
      expect(found.kind === "no-rules-for-country" ? [] : found.air.map(({ text }) => text)).toContain(
        "No returned pack goes by air, whatever its class.",
      );
    }
  }
});

test("a country without a track gets no orders, and do-not-ship holds there all the same", () => {
  expect(orders({ fromCountry: "ZZ" }).kind).toBe("no-rules-for-country");
  expect(orders({ fromCountry: "ZZ", transportClass: "do-not-ship" }).kind).toBe("do-not-ship");
});

test("a pack in its vehicle or a device is UN 3481, a sound one alone UN 3480 by P903", () => {
  expect(packed({ inEquipment: true }).unNumber).toBe("UN 3481");
  expect(packed({ inEquipment: true }).marks.map(({ text }) => text)).toContain("UN 3481");
  expect(JSON.stringify(packed({ fromCountry: "US" }).marks.map(({ text }) => text))).toContain("UN 3480");
  expect(packed({ transportClass: "not-damaged" }).packing.instruction).toBe("P903");
});

test("every sentence of the rules says where it was read, or that it is from memory", () => {
  const said = JSON.stringify(transportRules);
  expect(said).not.toMatch(/"mark":\{\}/);
  for (const { mark } of [...transportRules.air, ...transportRules.checklist, ...transportRules.definition]) {
    expect(sayMark(mark)).toMatch(
      /^(read in .{3,}|from memory: verify in .{3,}|common practice, no source|rule of this house)$/,
    );
  }
});

test("a rule set without its owner, a day or the mark of a sentence is refused", () => {
  const without = (change: object) => transportRulesSchema.safeParse({ ...transportRules, ...change }).success;
  expect(without({})).toBe(true);
  expect(without({ owner: "" })).toBe(false);
  expect(without({ validFrom: "2025-02-30" })).toBe(false);
  expect(without({ air: [{ text: "No air." }] })).toBe(false);
});

test("the sheet for a used battery keeps to points 1(c), 1(d) and 2 of Annex XIV and is marked for counsel", () => {
  const { statements, enclosures, forCounsel } = usedBatteryStatement("DE");
  const said = statements.map(({ text }) => text).join(" ");
  expect(said).toMatch(/repair under guarantee with the intention of re-use/);
  expect(said).toMatch(/business-to-business transfer agreement/);
  expect(said).toMatch(/none of the materials or parts in this consignment is waste/);
  expect(said).toMatch(/protected appropriately against damage/);
  expect(enclosures[0]?.text).toMatch(/transfer agreement/);
  expect(forCounsel).toMatch(/counsel/);
});
