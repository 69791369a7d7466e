import { expect, test } from "vitest";
import { type Role, roles } from "@/lib/access/actor";
import { type Act, may, whoMay } from "@/lib/access/may";
import { caseMoves } from "@/lib/returns/case-moves";
import { readMoveForm } from "@/lib/returns/move-form.schema";
import { type MoveName, moveNames } from "@/lib/returns/move-names";
import { ownSteps } from "@/lib/returns/next-steps";
import { nothingKnown } from "@/lib/returns/return-facts";
import { moveReturn } from "@/lib/returns/return-moves";
import type { ReturnStanding } from "@/lib/returns/return-standing";
import type { StepField } from "@/lib/returns/step-fields";
import { actorOf } from "./any-actor";
import { fullPast, proposal, repair, standing } from "./any-standing";

// Where each move is made in the browser. The page of a return shows a form for every step that is open to its reader
// (`ownSteps`), so a move is reachable where the page lets its people in and the form asks all that the move needs.
const pageOfReturn = { dealer: "read-own-returns", house: "read-queue" } as const satisfies Record<string, Act>;
/** Moves with a page of their own: the form a return is lodged with, the desk a decision is proposed at, and the calendar. */
const elsewhere: Readonly<Partial<Record<MoveName, readonly { readonly page: string; readonly act: Act }[]>>> = {
  draft: [
    { page: "/dealer/returns/new", act: "lodge-return" },
    { page: "/bench/new", act: "lodge-on-behalf" },
  ],
  lodge: [
    { page: "/dealer/returns/new", act: "lodge-return" },
    { page: "/bench/new", act: "lodge-on-behalf" },
  ],
  receive: [{ page: "/bench/[reference]/receiving", act: "receive-pack" }],
  "await-again": [{ page: "/bench/[reference]/receiving", act: "receive-pack" }],
  "prove-sale": [{ page: "/bench/[reference], cover", act: "read-queue" }],
  "choose-proof": [{ page: "/bench/[reference], cover", act: "read-queue" }],
  "add-readings": [
    { page: "/dealer/returns/[reference], readings", act: "read-own-returns" },
    { page: "/bench/[reference], readings", act: "read-queue" },
  ],
  propose: [{ page: "/bench/[reference], decision desk", act: "propose-decision" }],
};

function rolesOf(name: MoveName): Role[] {
  const { act, orAct } = caseMoves[name];
  return roles.filter((role) => [act, orAct].some((one) => one && whoMay(one).includes(role)));
}

const serial = standing().serial;

function typed({ key, kind, choices }: StepField): string {
  if (kind === "yes") return "true";
  // The day on which it is asked: soon enough for an answer, and late enough for what was delivered.
  if (kind === "day") return "2026-10-05";
  if (kind === "choice") return choices?.find(({ value }) => value !== "do-not-ship")?.value ?? "";
  if (key === "duplicateOf") return "R-26-00418-T";
  return kind === "scan" ? serial : "Written in the form.";
}

/** Moves of a return whose pack is not at the works. */
const notWithUs: readonly MoveName[] = [
  "approve-return",
  "hand-to-carrier",
  "come-back",
  "renew-approval",
  "lapse-unanswered",
  "solve-remotely",
  "merge",
  "withdraw",
];

/** A standing from which the move goes on, with nothing known by the program: everything has to come from the form. */
function ready(name: MoveName, status: ReturnStanding["status"]): ReturnStanding {
  const second = { ...proposal, firstApprovalByUserId: "a lead", firstApprovalByName: "A lead" };
  const isSecond = name === "approve-as-second";
  return standing({
    status,
    custody: notWithUs.includes(name) ? "with-dealer" : "bench",
    known: {
      ...nothingKnown,
      // Label, checklist and photographs are made on the page of the return, not in the form of the move.
      labelPrinted: true,
      packedAsTold: true,
      // A class is declared on the page of transport, /bench/[reference]/transport; no form of a move stands in for that.
      transportClass: "damaged",
      rulesStand: true,
      outgoing: null,
      // A repaired pack is released on the page of the work, /bench/[reference]/work; no form of the move stands in for that.
      isReleased: name === "finish-work" ? true : null,
    },
    decidedRemedy: name === "ready-without-work" ? "return-as-is" : name === "reopen" ? "isolate" : "repair",
    secondPerson: isSecond ? ["goodwill"] : [],
    past: {
      ...fullPast,
      proposal: isSecond ? second : proposal,
      askedBeforeLapse: name === "take-up-again" ? "in-review" : null,
    },
  });
}

test.for(moveNames.filter((name) => caseMoves[name].act !== null).map((name) => ({ name })))(
  "everybody who may make the move $name finds it on a page, and its form asks all that it needs",
  ({ name }) => {
    const pages = elsewhere[name];
    for (const role of rolesOf(name)) {
      if (pages !== undefined) {
        expect(
          pages.some(({ act }) => may({ role }, act)),
          role,
        ).toBe(true);
        continue;
      }
      const page = role === "dealer" || role === "dealer-admin" ? pageOfReturn.dealer : pageOfReturn.house;
      expect(may({ role }, page), `${role} opens the page of the return`).toBe(true);
      for (const status of caseMoves[name].from) {
        const here = ready(name, status);
        const step = ownSteps(actorOf(role), here).find((own) => own.name === name);
        if (step === undefined) throw new Error(`${role} finds no step ${name} at ${status}`);
        expect(step.whyNot, `${role} at ${status}`).toBeNull();
        const form = [
          ["reference", here.reference],
          ["name", name],
          ["seenVersion", String(here.version)],
          ...(step.needsReason ? [["reason", "Because."]] : []),
          ...step.fields.map((field) => [field.key, typed(field)]),
        ] as [string, string][];
        const read = readMoveForm(form);
        if (!read.success) throw new Error(`${name}: ${read.error.message}`);
        const decision = name === "solve-remotely" ? { ...repair, remedy: "remote-fix" as const } : undefined;
        const outcome = moveReturn(actorOf(role), here, {
          ...read.data,
          ...(decision === undefined ? {} : { decision }),
        });
        expect(outcome, `${role} at ${status}`).toMatchObject({ kind: "moved" });
      }
    }
  },
);
