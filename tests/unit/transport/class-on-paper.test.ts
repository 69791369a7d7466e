import { expect, test } from "vitest";
import { classOnPaper } from "@/lib/transport/class-on-paper";

test("without a declaration the paper says the graver of damaged and what is proposed, never the lighter", () => {
  expect(classOnPaper(null, "not-damaged")).toBe("No transport class declared: treat it as damaged");
  expect(classOnPaper(null, "damaged")).toBe("No transport class declared: treat it as damaged");
  expect(classOnPaper(null, "do-not-ship")).toMatch(/^Do not ship/);
});

test("a class declared before danger became known does not hide that nothing is to be shipped now", () => {
  expect(classOnPaper("damaged", "damaged")).not.toMatch(/do not ship/i);
  expect(classOnPaper("damaged", "do-not-ship")).toMatch(/do not ship/);
  expect(classOnPaper("do-not-ship", "damaged")).toMatch(/do not ship/i);
});
