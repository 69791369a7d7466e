import type { Packing, TransportRules } from "./rule-set.schema";
import { writePackageMark, writeSourced } from "./rule-text";
import type { SourcedText } from "./sourced-text";
import { transportClasses, transportClassLabels } from "./transport-class";

/** How the text of a field is read: a marked sentence, one a line, marks of a package one a line, and so on. */
export type RuleFieldKind = "plain" | "number" | "sentence" | "sentences" | "no-sentences" | "marks" | "countries";

/** One field of a proposal: where in the rule set it belongs, and what stands there now. */
export interface RuleField {
  /** Path in the rule set, its parts joined by dots: also the name in the form. */
  readonly name: string;
  readonly section: string;
  readonly label: string;
  readonly kind: RuleFieldKind;
  readonly text: string;
}

const lines = (texts: readonly SourcedText[]) => texts.map(writeSourced).join("\n");

/** The name a track has as long as nobody has named it: such a track is left out. */
export const UNNAMED_TRACK = "";

const blankPacking: Packing = {
  instruction: "",
  largeInstruction: null,
  level: { text: "", mark: { kind: "house" } },
  contents: [],
  marks: [],
  documentEntries: [],
};

/**
 * Every field of a rule set, filled with what it says. `blankTracks` adds tracks for countries that have none yet; one
 * without a name is left out when the proposal is read.
 */
export function ruleFields(rules: TransportRules, blankTracks = 0): RuleField[] {
  const blank = { name: UNNAMED_TRACK, countries: [], critical: [], remarks: [] };
  const tracks = [
    ...rules.tracks,
    ...Array.from({ length: blankTracks }, () => ({ ...blank, damaged: blankPacking, notDamaged: blankPacking })),
  ];
  const general = "Owner, mass, time, air";
  return [
    field("owner", general, "To whom the rules belong", "plain", rules.owner),
    field(
      "authorisationDays",
      general,
      "Days for which leave to send holds",
      "number",
      String(rules.authorisationDays),
    ),
    field(
      "aloneAboveKg.kg",
      general,
      "A battery goes alone above so many kg net",
      "number",
      String(rules.aloneAboveKg.kg),
    ),
    field("aloneAboveKg.rule", general, "The rule behind that", "sentence", writeSourced(rules.aloneAboveKg.rule)),
    field("air", general, "By air", "sentences", lines(rules.air)),
    field("definition", "Classes", "What counts as damaged or defective", "sentences", lines(rules.definition)),
    ...transportClasses.map((one) =>
      field(`meanings.${one}`, "Classes", transportClassLabels[one], "sentence", writeSourced(rules.meanings[one])),
    ),
    field("checklist", "Before it is handed over", "Checklist, a point a line", "sentences", lines(rules.checklist)),
    ...scriptFields(rules),
    ...tracks.flatMap((track, index) => trackFields(track, index)),
  ];
}

function field(name: string, section: string, label: string, kind: RuleFieldKind, text: string): RuleField {
  return { name, section, label, kind, text };
}

const scriptNames = {
  "keep-away": "What a dealer is told: something is going on",
  "set-apart": "What a dealer is told: a sign of danger",
  none: "What a dealer is told: no sign",
} as const;

function scriptFields({ dealerScripts }: TransportRules): RuleField[] {
  return (["keep-away", "set-apart", "none"] as const).flatMap((danger) => {
    const { headline, does, donts } = dealerScripts[danger];
    const section = scriptNames[danger];
    const name = `dealerScripts.${danger}`;
    return [
      field(`${name}.headline`, section, "Headline", "plain", headline),
      field(`${name}.does`, section, "Do", "sentences", lines(does)),
      field(`${name}.donts`, section, "Do not", "sentences", lines(donts)),
    ];
  });
}

function trackFields(track: TransportRules["tracks"][number], index: number): RuleField[] {
  const section = track.name === UNNAMED_TRACK ? "More countries" : track.name;
  const name = `tracks.${index}`;
  return [
    field(`${name}.name`, section, "Name", "plain", track.name),
    field(`${name}.countries`, section, "Countries a pack leaves from", "countries", track.countries.join(", ")),
    ...packingFields(`${name}.damaged`, section, transportClassLabels.damaged, track.damaged),
    ...packingFields(`${name}.notDamaged`, section, transportClassLabels["not-damaged"], track.notDamaged),
    field(`${name}.critical`, section, "Do not ship: what a specialist packs by", "sentences", lines(track.critical)),
    field(`${name}.remarks`, section, "Besides", "no-sentences", lines(track.remarks)),
  ];
}

function packingFields(name: string, section: string, title: string, packing: Packing): RuleField[] {
  const { instruction, largeInstruction, level, contents, marks, documentEntries } = packing;
  const marked = marks.map(writePackageMark);
  return [
    field(`${name}.instruction`, section, `${title}: packing instruction`, "plain", instruction),
    field(`${name}.largeInstruction`, section, `${title}: for one large battery`, "plain", largeInstruction ?? ""),
    field(`${name}.level`, section, `${title}: level`, "sentence", level.text === "" ? "" : writeSourced(level)),
    field(`${name}.contents`, section, `${title}: contents`, "sentences", lines(contents)),
    field(`${name}.marks`, section, `${title}: marks on the package`, "marks", marked.join("\n")),
    field(`${name}.documentEntries`, section, `${title}: transport document`, "no-sentences", lines(documentEntries)),
  ];
}

/** What a version changes against another, field by field; empty where nothing. */
export function rulesChanged(before: TransportRules, after: TransportRules): string[] {
  const was = new Map(ruleFields(before).map((one) => [one.name, one]));
  const is = ruleFields(after);
  const gone = [...was.values()].filter(({ name }) => !is.some((one) => one.name === name));
  return [
    ...is.flatMap((one) => {
      const old = was.get(one.name)?.text ?? "";
      return old === one.text ? [] : changeOf(one, old.split("\n"), one.text.split("\n"));
    }),
    ...gone.flatMap((one) => changeOf(one, one.text.split("\n"), [])),
  ];
}

function changeOf({ section, label }: RuleField, before: readonly string[], after: readonly string[]): string[] {
  const left = after.filter((line) => line !== "" && !before.includes(line)).map((line) => `new: ${line}`);
  const gone = before.filter((line) => line !== "" && !after.includes(line)).map((line) => `gone: ${line}`);
  const changes = [...left, ...gone];
  return (changes.length === 0 ? ["in another order"] : changes).map((change) => `${section}, ${label}: ${change}`);
}
