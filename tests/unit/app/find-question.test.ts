import { expect, test } from "vitest";
import { isWanted } from "@/app/_components/find-question";

const question = {
  label: "Weak group: capacity over the median group's, ratio",
  hint: "Usually 0.93.",
  section: "Finding: weak group and capacity",
};

test("a question is found by the beginnings of its words, in any order and case, and by its section", () => {
  for (const wanted of ["", "  ", "weak", "WEAK cap", "ratio median", "finding", "0.93", "group's"])
    expect(isWanted(question, wanted), wanted).toBe(true);
});

test("every word that is looked for must be there, and not in the middle of another", () => {
  for (const wanted of ["weak lead", "eak", "temperature"]) expect(isWanted(question, wanted), wanted).toBe(false);
});
