import { expect, test } from "vitest";
import { groupsToTell } from "@/lib/reliability/signals-to-tell";

const of = (fault: string, group = "7B") => ({ by: "cell-lot" as const, group, fault });

test("a second signal of a group is told where it is for another fault, and only then", () => {
  expect(groupsToTell([of("main-lead")], [])).toEqual(["Cell lot 7B"]);
  expect(groupsToTell([of("main-lead"), of("")], [of("main-lead"), of("")])).toEqual([]);
  expect(groupsToTell([of("main-lead"), of("acute-event")], [of("main-lead"), of("")])).toEqual(["Cell lot 7B"]);
  expect(groupsToTell([of("acute-event", "8C")], [of("acute-event")])).toEqual(["Cell lot 8C"]);
});

test("a group is told of once however many of its faults are new", () => {
  expect(groupsToTell([of("main-lead"), of("acute-event"), of("")], [])).toEqual(["Cell lot 7B"]);
});
