import { expect, test } from "vitest";
import { changedSince } from "@/lib/returns/changed-since";

const moves = [
  { dataVersion: 1, to: "sent-in", actorName: "Ilka" },
  { dataVersion: 2, to: "in-review", actorName: "Samira" },
  { dataVersion: 3, to: "decided", actorName: "Samira" },
];

test("only moves after the seen version are told, oldest first", () => {
  expect(changedSince(moves, 1)).toEqual(["Being looked at, by Samira", "Decided, by Samira"]);
});

test("nothing changed where the newest version was seen", () => {
  expect(changedSince(moves, 3)).toEqual([]);
});
