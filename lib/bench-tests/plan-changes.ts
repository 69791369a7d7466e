import { limitSourceWords, type TestDefinition, type TestLimits } from "./test-definition.schema";
import { sayLimits } from "./verdict";

/** What a version changed against the one before, one whole sentence each; empty where nothing changed. */
export function planChanges(before: readonly TestDefinition[], after: readonly TestDefinition[]): string[] {
  const old = new Map(before.map((test) => [test.key, test]));
  const kept = new Set(after.map(({ key }) => key));
  return [
    ...before.filter(({ key }) => !kept.has(key)).map(({ title }) => `“${title}” is left out.`),
    ...after.flatMap((test) => {
      const was = old.get(test.key);
      return was === undefined ? [`“${test.title}” is new.`] : changesOf(was, test);
    }),
  ];
}

function changesOf(was: TestDefinition, now: TestDefinition): string[] {
  const name = `“${now.title}”`;
  const limits = [
    limitChange(name, "limits", was, now, "limits"),
    limitChange(name, "limits after work", was, now, "buildLimits"),
  ].flat();
  const mandatory =
    was.isMandatory === now.isMandatory ? [] : [`${name} is ${now.isMandatory ? "mandatory" : "no longer mandatory"}.`];
  const words = (["title", "shows", "method", "caution", "phase"] as const).some((field) => was[field] !== now[field])
    ? [`${name} is described anew.`]
    : [];
  return [...limits, ...mandatory, ...words];
}

function limitChange(
  name: string,
  what: string,
  was: TestDefinition,
  now: TestDefinition,
  which: "limits" | "buildLimits",
): string[] {
  const before = was.reading.kind === "number" ? was.reading[which] : null;
  const after = now.reading.kind === "number" ? now.reading[which] : null;
  if (JSON.stringify(before) === JSON.stringify(after)) return [];
  const unit = now.reading.kind === "number" ? now.reading.unit : "";
  return [`${name}: ${what} from ${said(before, unit)} to ${said(after, unit)}.`];
}

function said(limits: TestLimits | null, unit: string): string {
  if (limits === null) return "none";
  return `${sayLimits(limits, unit)} (${limitSourceWords[limits.source]}: ${limits.sourceNote})`;
}
