import { z } from "zod";
import type { Actor } from "@/lib/access/actor";
import { may } from "@/lib/access/may";
import { storableText } from "@/lib/returns/storable-text";
import { affectedDefinitionSchema } from "./affected-packs";

/** What can happen to a set of packs that share a cause. */
export const setEvents = ["proposed", "frozen", "dropped", "stopped", "let-go"] as const;
export type SetEventKind = (typeof setEvents)[number];

export const setEventWords: Readonly<Record<SetEventKind, string>> = {
  proposed: "Proposed, with the packs it named that day",
  frozen: "Frozen: it names these packs from now on",
  dropped: "Dropped",
  stopped: "Its packs are held back: none goes out, neither as a replacement or on loan nor back to its customer",
  "let-go": "Its packs may go out again",
};

/** What a letter calls a set by. */
export function setReference(number: number): string {
  return `Set ${number}`;
}

const why = storableText({
  least: 10,
  most: 2000,
  tooShort: "Write why, in a sentence that somebody reads in a year.",
  tooLong: "This is longer than 2000 characters.",
});

/** A set as somebody names it; one object for the form and the server. */
export const newSetSchema = affectedDefinitionSchema.extend({
  why,
  /** What is asked for at once; those who may not are told so. */
  as: z.enum(["proposed", "frozen", "stopped"], "Choose what is to happen."),
});
export type NewSet = z.output<typeof newSetSchema>;

export const setStepSchema = z.object({
  number: z.coerce.number("There is no such set.").int().min(1),
  step: z.enum(["frozen", "dropped", "stopped", "let-go"], "Choose what is to happen."),
  why,
  /** How many events the page showed: of two people at once the second is told. */
  seenEvents: z.coerce.number("Reload the page: it does not know what it shows.").int().min(1),
});
export type SetStep = z.output<typeof setStepSchema>;

export interface SetEvent {
  readonly kind: SetEventKind;
  readonly byUserId: string;
}

export interface SetStanding {
  readonly state: "proposed" | "frozen" | "dropped";
  readonly isStopped: boolean;
  /** Who held its packs back last; null while nobody did. */
  readonly stoppedByUserId: string | null;
}

/** Where a set stands after all that happened to it, oldest first. */
export function standingOfSet(events: readonly SetEvent[]): SetStanding {
  let state: SetStanding["state"] = "proposed";
  let isStopped = false;
  let stoppedByUserId: string | null = null;
  for (const { kind, byUserId } of events) {
    if (kind === "stopped" || kind === "let-go") isStopped = kind === "stopped";
    else state = kind;
    if (kind === "stopped") stoppedByUserId = byUserId;
  }
  return { state, isStopped, stoppedByUserId };
}

export type SetRefusal =
  | "not-allowed"
  | "not-found"
  | "not-from-here"
  | "same-person"
  | "someone-changed-this"
  | "names-no-pack";

export const setRefusals: Readonly<Record<SetRefusal, string>> = {
  "not-allowed":
    "The service lead proposes a set; a manager or the safety officer freezes it and holds its packs back.",
  "not-found": "There is no such set.",
  "not-from-here": "This does not follow from where the set stands now.",
  "same-person": "You held these packs back, so somebody else lets them go: a manager or the safety officer.",
  "someone-changed-this": "Somebody changed this set while you had it open. Look at it as it is now.",
  "names-no-pack": "No pack shares this, so there is nothing to freeze.",
};

/** Whether this person may begin a set so. */
export function mayBegin(actor: Actor, as: NewSet["as"]): boolean {
  if (as === "proposed") return may(actor, "propose-affected-set");
  return may(actor, "create-affected-set") && (as === "frozen" || may(actor, "stop-ship"));
}

/**
 * Why a step of a set is not made; null where it is. Held back at once by one person, because every hour counts; let go by
 * another (separation of duties, rule of this house).
 */
export function whyNotStepped(actor: Actor, standing: SetStanding, step: SetStep["step"]): SetRefusal | null {
  const isOfStop = step === "stopped" || step === "let-go";
  if (!may(actor, isOfStop ? "stop-ship" : "create-affected-set")) return "not-allowed";
  switch (step) {
    case "frozen":
    case "dropped":
      return standing.state === "proposed" ? null : "not-from-here";
    case "stopped":
      return standing.state === "frozen" && !standing.isStopped ? null : "not-from-here";
    case "let-go":
      if (!standing.isStopped) return "not-from-here";
      return standing.stoppedByUserId === actor.userId ? "same-person" : null;
    default: {
      const never: never = step;
      return never;
    }
  }
}

/** The steps open to somebody on a set as it stands. */
export function stepsOfSet(actor: Actor, standing: SetStanding): SetStep["step"][] {
  return (["frozen", "dropped", "stopped", "let-go"] as const).filter(
    (step) => whyNotStepped(actor, standing, step) === null,
  );
}
