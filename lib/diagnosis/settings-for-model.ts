import { z } from "zod";
import { type DiagnosisSettings, defaultDiagnosisSettings } from "@/lib/diagnosis/diagnosis-settings";
import { modelThresholdsSchema, type PackModel } from "@/lib/packs/pack-model";

export interface ModelSettings {
  readonly settings: DiagnosisSettings;
  /** Names the model gives that no threshold has, or values of the wrong shape: told, never passed over in silence. */
  readonly notUnderstood: readonly string[];
}

const valueLike = (known: unknown) => (Array.isArray(known) ? z.tuple([z.number(), z.number()]) : z.number());

/** The defaults with the thresholds a pack model brings of its own put in their place. */
export function settingsForModel(
  model: Pick<PackModel, "diagnosis">,
  defaults = defaultDiagnosisSettings,
): ModelSettings {
  const notUnderstood: string[] = [];
  const wanted = model.diagnosis ?? {};
  for (const part of Object.keys(wanted)) if (!Object.hasOwn(defaults, part)) notUnderstood.push(part);
  const merged = <T extends object>(part: string, known: T): T => {
    const own = { ...known };
    for (const [name, value] of Object.entries(wanted[part] ?? {})) {
      const before = Object.entries(known).find(([key]) => key === name);
      if (before === undefined || !valueLike(before[1]).safeParse(value).success) notUnderstood.push(`${part}.${name}`);
      else Object.assign(own, { [name]: value });
    }
    return own;
  };
  return {
    settings: {
      measure: merged("measure", defaults.measure),
      acute: merged("acute", defaults.acute),
      tap: merged("tap", defaults.tap),
      probe: merged("probe", defaults.probe),
      abuse: merged("abuse", defaults.abuse),
      verdict: merged("verdict", defaults.verdict),
      leak: merged("leak", defaults.leak),
      calibration: merged("calibration", defaults.calibration),
    },
    notUnderstood,
  };
}

/** A threshold a model sets otherwise than usual. */
export interface OwnThreshold {
  /** Part and name: "verdict.imbalancePercent". */
  readonly name: string;
  readonly value: string;
  /** The default; null for a name no threshold has. */
  readonly usual: string | null;
}

/**
 * What a model's stored thresholds come to beside the defaults, for whoever answers for them; null where they are not of
 * the shape thresholds have. Empty for a model that brings none; in order of name, because
 * the database keeps none.
 */
export function ownThresholds(stored: unknown, defaults = defaultDiagnosisSettings): OwnThreshold[] | null {
  if (stored === null || stored === undefined) return [];
  const parsed = modelThresholdsSchema.safeParse(stored);
  if (!parsed.success) return null;
  const own = Object.entries(parsed.data).flatMap(([part, values]) =>
    Object.entries(values).map(([name, value]) => ({
      name: `${part}.${name}`,
      value: inWords(value),
      usual: usualOf(defaults, part, name),
    })),
  );
  return own.toSorted((a, b) => a.name.localeCompare(b.name, "en"));
}

function usualOf(defaults: DiagnosisSettings, part: string, name: string): string | null {
  const known = Object.entries(defaults).find(([key]) => key === part)?.[1];
  const usual = known === undefined ? undefined : Object.entries(known).find(([key]) => key === name)?.[1];
  return typeof usual === "number" || Array.isArray(usual) ? inWords(usual) : null;
}

function inWords(value: number | readonly number[]): string {
  return typeof value === "number" ? String(value) : value.join(" to ");
}
