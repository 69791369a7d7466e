import { expect, test } from "vitest";
import { mintActor, type Role } from "@/lib/access/actor";
import { isManagerMissing, openIssueSchema } from "@/lib/packs/issue-proposal";

const answers = {
  revision: "QP-A",
  lot: "",
  set: "",
  title: "Main leads work loose",
  action: "Do not ride. Send the pack in, whatever its age.",
  coversWhateverTheDate: "yes",
  stopShip: "no",
  fault: "main-lead",
  otherFault: "",
  suggestedRemedy: "repair",
  validFrom: "2026-12-01",
  why: "Seven leads came loose in one month.",
};

test("an issue is read with its answers as flags, and what was left open as nothing", () => {
  expect(openIssueSchema.parse(answers)).toMatchObject({
    coversWhateverTheDate: true,
    stopShip: false,
    fault: "main-lead",
    otherFault: undefined,
    insteadOf: "",
  });
});

test.for([
  ["title", "Bad", /in one line/],
  ["action", "Send it", /in a sentence/],
  ["coversWhateverTheDate", "", /covered whatever the date/],
  ["stopShip", "", /may still go out/],
  ["validFrom", "", /first day/],
  ["validFrom", "2026-02-30", /does not exist/],
  ["why", "Because", /Write why/],
  ["fault", "gremlins", /Choose one/],
] as const)("%s answered with “%s” is refused at that question", ([name, answer, sentence]) => {
  const read = openIssueSchema.safeParse({ ...answers, [name]: answer });
  expect(read.error?.issues.map(({ path, message }) => [path[0], message])).toEqual([
    [name, expect.stringMatching(sentence)],
  ]);
});

const roles = ["service-lead", "manager", "safety-officer"] as const satisfies readonly Role[];
const actor = (role: Role) => mintActor({ userId: role, name: role, role, dealerId: null });

test("cover whatever the date takes a manager among the two, whoever proposed; nothing else does", () => {
  const missing = roles.flatMap((proposer) =>
    roles
      .filter((approver) => isManagerMissing(true, proposer, actor(approver)))
      .map((approver) => [proposer, approver]),
  );
  expect(missing).toEqual([
    ["service-lead", "service-lead"],
    ["service-lead", "safety-officer"],
    ["safety-officer", "service-lead"],
    ["safety-officer", "safety-officer"],
  ]);
  expect(roles.some((proposer) => isManagerMissing(false, proposer, actor("safety-officer")))).toBe(false);
});
