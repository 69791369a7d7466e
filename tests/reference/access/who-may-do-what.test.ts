import { expect, test } from "vitest";
import { isDealerRole, mintActor, type Role } from "@/lib/access/actor";
import { type Act, may } from "@/lib/access/may";

// Source: the project's reference/trade.md, 2.4 "Who may do what (least privilege)", its rows and cells in its words and order:
// common practice of the trade, no published source. A cell stands for the acts that its word grants; every other act named in the
// row is refused to it.
const columns: readonly Role[] = [
  "dealer",
  "dealer-admin",
  "technician",
  "service-lead",
  "manager",
  "safety-officer",
  "finance",
  "administrator",
];

interface Row {
  readonly action: string;
  readonly cells: string;
  readonly grants: Readonly<Record<string, readonly Act[]>>;
}

const none: readonly Act[] = [];
const affectedSet: readonly Act[] = ["propose-affected-set", "create-affected-set", "stop-ship"];

const table: readonly Row[] = [
  {
    action: "Create/edit own dealer's draft, answer, upload",
    cells: "yes | yes | on behalf | on behalf | - | - | - | -",
    grants: {
      yes: ["lodge-return", "answer-question", "upload-readings", "add-readings"],
      "on behalf": ["lodge-on-behalf", "answer-question", "add-readings"],
      "-": none,
    },
  },
  {
    action: "See another dealer's cases",
    cells: "no | no | yes | yes | yes | yes | money only | no (break-glass, logged)",
    grants: {
      no: none,
      yes: ["read-queue"],
      "money only": ["read-cases-for-money"],
      "no (break-glass, logged)": ["look-in-emergency"],
    },
  },
  {
    action: "See customer contact",
    // Stricter here: "unless needed" is the lead's, with a reason.
    cells: "own | own | no, unless needed | masked, reveal logged | no | reveal logged | no | no",
    grants: {
      own: ["read-own-contact"],
      no: none,
      "no, unless needed": none,
      "masked, reveal logged": ["reveal-contact"],
      "reveal logged": ["reveal-contact"],
    },
  },
  {
    action: "See build record",
    cells: "revision + status only | same | yes | yes | yes | yes | no | no",
    grants: { "revision + status only": none, same: none, yes: ["read-build-record"], no: none },
  },
  {
    action: "Set transport class",
    cells: "answers only | answers only | propose | yes | yes | yes | - | -",
    grants: {
      "answers only": none,
      propose: ["propose-transport-class"],
      yes: ["propose-transport-class", "set-transport-class"],
      "-": none,
    },
  },
  {
    action: "Raise safety / lower safety",
    cells: "raise | raise | raise | raise | raise | lower | raise | raise",
    // "Anyone may raise" (2.3), so the safety officer does both.
    grants: { raise: ["raise-safety"], lower: ["raise-safety", "lower-safety"] },
  },
  {
    action: "Propose / approve decision",
    cells: "- | - | propose | approve | approve (2nd) | veto | - | -",
    grants: {
      propose: ["propose-decision"],
      // The lead proposes too, and then approves nothing of it (DEVELOPERS.md: who proposed approves nothing).
      approve: ["propose-decision", "approve-decision"],
      "approve (2nd)": ["approve-as-second"],
      veto: ["veto-decision"],
      "-": none,
    },
  },
  {
    action: "Change rules/policies",
    cells: "- | - | - | - | propose + second approve | consult | rates | deploy only",
    grants: {
      "propose + second approve": ["read-policies", "propose-policy", "approve-policy"],
      consult: ["read-policies"],
      rates: ["set-rates"],
      "deploy only": ["deploy-policy"],
      "-": none,
    },
  },
  {
    action: "Create affected set / stop-ship",
    cells: "- | - | - | propose | yes | yes (immediate) | - | -",
    grants: {
      propose: ["propose-affected-set", "propose-known-issue"],
      yes: [...affectedSet, "propose-known-issue", "approve-known-issue"],
      // At once by a set, whose packs one person holds back; an issue that stops or covers packs takes two.
      "yes (immediate)": [...affectedSet, "propose-known-issue", "approve-known-issue"],
      "-": none,
    },
  },
  {
    action: "Export bulk",
    cells: "own cases | own | no | yes | yes, logged | yes | money | no",
    grants: {
      "own cases": ["export-own-returns"],
      own: ["export-own-returns"],
      no: none,
      yes: ["export-returns"],
      "yes, logged": ["export-returns"],
      money: ["export-money"],
    },
  },
  {
    action: "Manage users",
    cells: "- | own dealer | - | - | staff | - | - | tenants",
    grants: {
      "own dealer": ["manage-own-dealer-accounts"],
      staff: ["manage-staff-accounts"],
      tenants: ["keep-dealers", "manage-all-accounts"],
      "-": none,
    },
  },
];

const cells = table.flatMap(({ action, cells: line, grants }) => {
  const words = line.split(" | ");
  const named = [...new Set(Object.values(grants).flat())].sort();
  return columns.map((role, index) => {
    const word = words[index] ?? "";
    return { action, role, word, named, granted: grants[word] };
  });
});

test("every row has a cell for each of the eight columns, and every word of a cell is given a meaning", () => {
  expect(table).toHaveLength(11);
  expect(table.map(({ cells: line }) => line.split(" | ").length)).toEqual(table.map(() => columns.length));
  expect(cells.filter(({ granted }) => granted === undefined)).toEqual([]);
});

test.for(cells)("$action: $role, “$word”", ({ role, named, granted }) => {
  const actor = mintActor({ userId: "u1", name: "Somebody", role, dealerId: isDealerRole(role) ? "d1" : null });
  expect(named.filter((act) => may(actor, act))).toEqual([...(granted ?? [])].sort());
});
