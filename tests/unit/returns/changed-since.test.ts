import { expect, test } from "vitest";
import { changedSince } from "@/lib/returns/changed-since";
import { trackStateWords } from "@/lib/returns/track-words";

const moves = [
  { dataVersion: 1, to: "sent-in", actorName: "Ilka" },
  { dataVersion: 2, to: "in-review", actorName: "Samira" },
  { dataVersion: 3, to: "decided", actorName: "Samira" },
];

test("only moves after the seen version are told, oldest first", () => {
  expect(changedSince(moves, 1)).toEqual(["Being looked at, by Samira", "Decided, by Samira"]);
});

test("of a track the same is told in the words of the track", () => {
  const flags = [
    { dataVersion: 1, to: "caution", actorName: "Ilka" },
    { dataVersion: 2, to: "isolate", actorName: "Jorun" },
  ];
  expect(changedSince(flags, 1, (state) => trackStateWords("safety", state))).toEqual(["Set apart, by Jorun"]);
  expect(() => trackStateWords("hold", "isolate")).toThrow(RangeError);
});

test("nothing changed where the newest version was seen", () => {
  expect(changedSince(moves, 3)).toEqual([]);
});
