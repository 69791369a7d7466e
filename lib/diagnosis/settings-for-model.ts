import { z } from "zod";
import { type DiagnosisSettings, defaultDiagnosisSettings } from "@/lib/diagnosis/diagnosis-settings";
import type { PackModel } from "@/lib/packs/pack-model";

export interface ModelSettings {
  readonly settings: DiagnosisSettings;
  /** Names the model gives that no threshold has, or values of the wrong shape: told, never passed over in silence. */
  readonly notUnderstood: readonly string[];
}

const valueLike = (known: unknown) => (Array.isArray(known) ? z.tuple([z.number(), z.number()]) : z.number());

/** The defaults with the thresholds a pack model brings of its own put in their place. */
export function settingsForModel(model: PackModel, defaults = defaultDiagnosisSettings): ModelSettings {
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
    },
    notUnderstood,
  };
}
