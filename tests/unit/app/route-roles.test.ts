import { readdirSync } from "node:fs";
import { expect, test } from "vitest";
import { routeRoles } from "@/tests/support/route-roles";

test("every page and every file of the program says who gets it, and no entry outlives its route", () => {
  const files = readdirSync("app", { recursive: true, encoding: "utf8" });
  const routes = files.filter((file) => /(^|\/)(page|route)\.tsx?$/.test(file));
  expect(Object.keys(routeRoles).toSorted()).toEqual(routes.toSorted());
});
