import { z } from "zod";
import { boxConditions, handSigns } from "./arrival.schema";
import type { watchFormSchema } from "./watch-form.schema";
import { neededWatchHours, setApartFirst, whyTooEarly } from "./watch-hours";
import { type WatchReading, watchVerdict } from "./watch-readings";

// A replacement that was sent and came back. It has no return, so no arrival and no place with limits of its own; it lies apart
// as long as a returned pack would, and is measured when it comes in and when it goes back on the shelf.

export const noSign = "none-of-these";

/** How it looked when it came back, as the form sends it. "None of these" is an answer, never the absence of one. */
export const unitBackSchema = z.object({
  boxCondition: z.enum(boxConditions, "Choose how the box looks."),
  sign: z.enum([noSign, ...handSigns], "Choose the gravest sign you see, or say that there is none."),
});
export type UnitBack = z.output<typeof unitBackSchema>;

/** Measured with a step: temperature of its surface and of the room, and the voltage or why it was not safe to connect. */
export type UnitMeasured = z.output<typeof watchFormSchema>;

/** Kept with the step into quarantine. */
export const unitCameBackSchema = unitBackSchema.extend({
  surfaceC: z.number(),
  ambientC: z.number(),
  terminalV: z.number().nullable(),
  noVoltageBecause: z.string().nullable(),
});

export interface UnitWatch {
  /** When it came into quarantine. */
  readonly since: Date;
  /** How it looked then; null in rows from before it was asked. */
  readonly came: z.output<typeof unitCameBackSchema> | null;
  readonly measured: UnitMeasured;
  readonly wasToldSince: boolean;
  readonly isSetApart: boolean;
}

export type UnitStays =
  | { readonly kind: "alarm"; readonly readings: readonly WatchReading[]; readonly sentence: string }
  | { readonly kind: "stays"; readonly sentence: string };

/** Why a replacement that came back stays in quarantine; null where it may lie on the shelf again. By the rules of the watch of a returned pack. */
export function whyUnitStays(
  { since, came, measured, wasToldSince, isSetApart }: UnitWatch,
  now: Date,
): UnitStays | null {
  if (isSetApart) return { kind: "stays", sentence: setApartFirst };
  const readings = [...(came === null ? [] : [{ at: since, ...came }]), { at: now, ...measured }];
  const neededHours = neededWatchHours({
    dangerSigns: [],
    conditions: [],
    handSigns: came === null || came.sign === noSign ? [] : [came.sign],
    boxCondition: came?.boxCondition ?? null,
    wasToldSince,
  });
  const verdict = watchVerdict(readings, neededHours);
  if (verdict.kind === "alarm")
    return {
      kind: "alarm",
      readings,
      sentence: `It gave an alarm. ${verdict.because.join(" ")} It is set apart, and the safety officer judges it.`,
    };
  const early = whyTooEarly(since, neededHours, now);
  return early === null ? null : { kind: "stays", sentence: early };
}
