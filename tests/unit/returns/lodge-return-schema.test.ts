import { zodResolver } from "@hookform/resolvers/zod";
import fc from "fast-check";
import { expect, expectTypeOf, test } from "vitest";
import type { Serial } from "@/lib/packs/serial";
import { type LodgeReturn, type LodgeReturnInput, lodgeReturnSchema } from "@/lib/returns/lodge-return.schema";

const filled: LodgeReturnInput = {
  clientKey: "018f3a5e-7c1b-7d2e-8f3a-5e7c1b7d2e8f",
  dangerSigns: ["none-of-these"],
  serial: "tr-2417-0392-s",
  soldOnStated: "2025-04-01",
  soldOnEvidence: "till-record",
  noticedOn: "2026-03-01",
  toldOn: "2026-03-05",
  concern: "Schaltet am Berg ab. 登坂時に切れる。",
  symptom: "cuts-out-under-load",
  conditions: ["at-full-power", "when-cold"],
  readingFileId: "018f3a5e-7c1b-7d2e-8f3a-5e7c1b7d2e90",
  noFileReason: "",
};

/** Messages by field for a form with some answers changed. */
function problems(over: Record<string, unknown>): Record<string, string> {
  const read = lodgeReturnSchema.safeParse({ ...filled, ...over });
  return Object.fromEntries((read.error?.issues ?? []).map(({ path, message }) => [path.join("."), message]));
}

test("a filled form is read: the serial in canonical form, the customer's words untouched", () => {
  const read = lodgeReturnSchema.parse({ ...filled, concern: "  Geht aus.\n" });
  expect(read).toMatchObject({ serial: "TR24170392S", concern: "  Geht aus.\n", soldOnStated: "2025-04-01" });
  expectTypeOf<LodgeReturn["serial"]>().toEqualTypeOf<Serial>();
});

test("untouched optional fields count as not given", () => {
  const read = lodgeReturnSchema.parse({
    ...filled,
    soldOnStated: "",
    soldOnEvidence: "",
    readingFileId: "",
    noFileReason: "later",
  });
  expect([read.soldOnStated, read.soldOnEvidence, read.readingFileId]).toEqual([undefined, undefined, undefined]);
  const { soldOnStated: _on, soldOnEvidence: _how, noFileReason: _why, ...leastGiven } = filled;
  expect(lodgeReturnSchema.safeParse(leastGiven).success).toBe(true);
});

test("the danger question must be answered, and with none only alone", () => {
  expect(problems({ dangerSigns: [] })).toEqual({ dangerSigns: expect.stringMatching(/Look at the pack first/) });
  expect(problems({ dangerSigns: undefined })).toEqual({
    dangerSigns: expect.stringMatching(/Look at the pack first/),
  });
  expect(problems({ dangerSigns: ["none-of-these", "hot"] })).toEqual({
    dangerSigns: expect.stringMatching(/one or the other/),
  });
  expect(problems({ dangerSigns: ["hot", "leaking"] })).toEqual({});
});

test.for([
  ["a missing serial", { serial: "" }, "serial", /Scan the label/],
  ["a mistyped serial", { serial: "TR2417O392S" }, "serial", /Does the label say TR-2417-0392-S\?/],
  ["a day that does not exist", { toldOn: "2026-02-30" }, "toldOn", /does not exist/],
  ["no day told", { toldOn: "" }, "toldOn", /That day counts for the cover/],
  ["a sale day that does not exist", { soldOnStated: "2025-02-29" }, "soldOnStated", /does not exist/],
  [
    "a sale day without saying how it is known",
    { soldOnEvidence: "" },
    "soldOnEvidence",
    /how the day of the sale is known/,
  ],
  ["a concern of spaces", { concern: "          " }, "concern", /own words/],
  ["a concern too long", { concern: "x".repeat(2001) }, "concern", /2000 characters/],
  ["a concern the database cannot hold", { concern: "zero \0 inside" }, "concern", /broken character/],
  ["half of a character pair", { concern: "half \ud83d pair" }, "concern", /broken character/],
  ["no symptom", { symptom: "" }, "symptom", /Something else/],
  ["neither file nor reason", { readingFileId: "" }, "readingFileId", /say why there is none/],
  ["a file name instead of an id", { readingFileId: "../../etc/passwd" }, "readingFileId", /not known here/],
  ["no key", { clientKey: "1" }, "clientKey", /Reload the page/],
] as const)("%s is told at its field", ([, over, field, message]) => {
  expect(problems(over)).toEqual({ [field]: expect.stringMatching(message) });
});

test("an empty form tells everything that is missing at once, rules over two fields included", () => {
  const told = Object.keys(
    problems({
      ...Object.fromEntries(Object.keys(filled).map((field) => [field, ""])),
      dangerSigns: [],
      conditions: [],
    }),
  );
  expect(told.toSorted()).toEqual([
    "clientKey",
    "concern",
    "dangerSigns",
    "noticedOn",
    "readingFileId",
    "serial",
    "symptom",
    "toldOn",
  ]);
});

test("whatever is sent, it is read or refused with sentences, never a fault", () => {
  fc.assert(
    fc.property(
      fc.oneof(fc.anything(), fc.record({ serial: fc.anything(), conditions: fc.anything(), toldOn: fc.anything() })),
      (sent) => {
        expect(lodgeReturnSchema.safeParse(sent).success).toBe(false);
      },
    ),
  );
});

test("the form library reads the form with the same object", async () => {
  const resolve = zodResolver(lodgeReturnSchema);
  const options = { fields: {}, shouldUseNativeValidation: false };
  expect(await resolve(filled, undefined, options)).toMatchObject({ values: { serial: "TR24170392S" }, errors: {} });
  const refused = await resolve({ ...filled, serial: "" }, undefined, options);
  expect(refused.errors).toMatchObject({ serial: { message: expect.stringMatching(/Scan the label/) } });
});
