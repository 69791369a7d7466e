import { expect, test } from "vitest";
import { arrivalSchema } from "@/lib/receiving/arrival.schema";

const read = (insulationMegaohm: unknown) =>
  arrivalSchema.safeParse({ scanned: "QP", boxCondition: "sound", noSigns: true, insulationMegaohm });

test("the insulation is read with a point or a comma, left out where it was not measured, and refused in words else", () => {
  for (const typed of ["21.5", "21,5", " 21,5 ", 21.5])
    expect(read(typed).data?.insulationMegaohm, `${typed}`).toBe(21.5);
  expect(read("").data?.insulationMegaohm).toBeUndefined();
  for (const typed of ["much", "-1", "1,2,3"]) {
    const refused = read(typed);
    expect(refused.success, typed).toBe(false);
    expect(refused.error?.issues[0]?.path, typed).toEqual(["insulationMegaohm"]);
  }
});
