import { expect, test } from "vitest";
import { listed } from "@/lib/diagnosis/wording";

test("answers one after the other read as one line: no capital in the middle of it", () => {
  expect(listed(["At full power", "Now and then, without a pattern", "When it is cold"])).toBe(
    "At full power; now and then, without a pattern; when it is cold",
  );
  expect(listed(["At full power"])).toBe("At full power");
  expect(listed([])).toBe("");
});
