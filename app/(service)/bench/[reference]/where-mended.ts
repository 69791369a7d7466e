import type { MoveRefusal } from "@/lib/returns/move-refusal";
import { outgoingRefusals } from "@/lib/returns/outgoing-refusal";

interface Place {
  readonly path: string;
  readonly label: string;
}

const tests: Place = { path: "tests", label: "Tests and fault" };
const remedy: Place = { path: "remedy", label: "Remedy and notices" };

const wayOut: Place = { path: "transport/to-dealer", label: "Transport to the dealer" };

/** The page of a return on which a condition that keeps a step shut is met. */
export const whereMended: Readonly<Partial<Record<MoveRefusal, Place>>> = {
  "tests-open": tests,
  "coding-missing": tests,
  "no-fault-untried": tests,
  "no-fault-showed": tests,
  "notices-missing": remedy,
  "unit-missing": remedy,
  "unit-stopped": remedy,
  "pack-stopped": remedy,
  "refund-not-agreed": remedy,
  "remedy-not-delivered": remedy,
  "loan-out": remedy,
  "evidence-changed": { path: "transport", label: "Transport class" },
  "unit-out": remedy,
  "awaited-back": remedy,
  "rules-changed": { path: "transport", label: "Transport class" },
  "class-missing": { path: "transport", label: "Transport class" },
  ...Object.fromEntries(Object.keys(outgoingRefusals).map((why) => [why, wayOut])),
  "outgoing-stopped": remedy,
  "quarantine-not-met": { path: "receiving", label: "Quarantine" },
  "limits-not-passed": { path: "work", label: "Re-test and release" },
};
