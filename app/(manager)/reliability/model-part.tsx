import { writtenDay } from "@/app/_components/calendar-day";
import { ForestPlot } from "@/app/_components/charts/forest-plot";
import { SurvivalChart } from "@/app/_components/charts/survival-chart";
import { SurvivalTable } from "@/app/_components/charts/survival-table";
import { Notice } from "@/app/_components/notice";
import type { WatchPage } from "@/lib/data/reliability/watch";
import { compareAtEqualAge } from "@/lib/reliability/compare-at-equal-age";
import { compareByWords } from "@/lib/reliability/compare-by";
import { hangsOnDelay, isCalledWorse } from "@/lib/reliability/compare-strata";
import { naiveTrapSentence } from "@/lib/reliability/naive-trap";
import { settledSoonSentence } from "@/lib/reliability/reporting-lag";
import type { GroupLine } from "@/lib/reliability/watch-answers";
import { EffectTable } from "./effect-table";
import { GroupLink } from "./group-link";
import { packListHref } from "./packs/pack-list-address";

interface ModelPartProps {
  readonly modelName: string;
  readonly page: WatchPage;
  readonly lines: readonly GroupLine[];
}

/** More curves than this cannot be told apart in one picture; the others stand in the tables. */
const MOST_CURVES = 8;
/** More than three bands of limits cannot be told apart. */
const MOST_BANDS = 3;

/** One model: curves at equal age, the table with all three lines, each group against the others, the misleading ratio. */
export function ModelPart({ modelName, page, lines }: ModelPartProps) {
  const { choice } = page.chosen;
  const { many } = compareByWords[choice.by];
  const id = `model-${modelName.replaceAll(/[^A-Za-z0-9]/g, "-")}`;
  const drawn = worthDrawing(lines);
  const others = lines.filter((line) => !drawn.includes(line));
  const comparisons = compareAtEqualAge(drawn.map((line) => ({ ...line, estimates: line.headline, modelName })));
  return (
    <section aria-labelledby={id} className="space-y-4">
      <h2 id={id} className="border-b-2 border-ink pb-1">
        {modelName}
      </h2>
      <div className="grid gap-x-8 gap-y-5 xl:grid-cols-2">
        <SurvivalChart
          id={`${id}-curves`}
          title={`${modelName}: share of packs failed by age, up to ${writtenDay(page.dataDate)}`}
          reports={drawn}
          highlighted={highlighted(drawn)}
        />
        <div className="min-w-0 space-y-3">
          <ForestPlot
            id={`${id}-forest`}
            title={`${modelName}: how often each of its ${many} fails, against the others`}
            sentence={forestSentence(lines, many)}
            rows={lines.flatMap((line) => forestRow(line))}
          />
          {choice.by === "revision" ? (
            <ul className="space-y-1">
              {lines.map((line) => (
                <li key={line.group}>
                  <GroupLink by="revision" group={line.group}>
                    {line.group}
                  </GroupLink>
                  {line.current ? <strong>, built today</strong> : null}
                </li>
              ))}
            </ul>
          ) : null}
        </div>
      </div>
      {drawn.length < lines.length ? (
        <p className="text-soft">
          Drawn are the {drawn.length} {many} that stand out or have most packs in use; the other {others.length} are in
          the tables below those.
        </p>
      ) : null}
      <LineTables modelName={modelName} page={page} lines={drawn} />
      {others.length === 0 ? null : (
        <details>
          <summary className="flex min-h-11 cursor-pointer items-center font-semibold text-accent underline underline-offset-4">
            The other {others.length} {many}
          </summary>
          <LineTables modelName={`${modelName}, the others`} page={page} lines={others} />
        </details>
      )}
      <Notice kind="caution" title="Returns divided by dispatched packs mislead">
        <p>{naiveTrapSentence(drawn, comparisons)}</p>
      </Notice>
    </section>
  );
}

/** The numbers of the curves and of the ratios, one row a group in each. */
function LineTables({ modelName, page, lines }: ModelPartProps) {
  const { choice } = page.chosen;
  const { one, many, name } = compareByWords[choice.by];
  return (
    <div className="space-y-4">
      <SurvivalTable
        caption={`${modelName} by ${one}, up to ${writtenDay(page.dataDate)}`}
        nameHead={name}
        reports={lines}
        hrefOf={(group, list, filter) => packListHref(choice.by, group, list, filter)}
        allowsForDelay={page.lag.kind === "lag"}
      />
      <EffectTable by={choice.by} caption={`${modelName}: each of its ${many} against the others`} lines={lines} />
    </div>
  );
}

function standsOut({ effect }: GroupLine): boolean {
  return effect !== null && isCalledWorse(effect);
}

/** Those that stand out and the largest, in the order in which they are listed. */
function worthDrawing(lines: readonly GroupLine[]): readonly GroupLine[] {
  if (lines.length <= MOST_CURVES) return lines;
  const bySize = lines.toSorted(
    (a, b) => Number(standsOut(b)) - Number(standsOut(a)) || b.packsInService - a.packsInService,
  );
  const chosen = new Set(bySize.slice(0, MOST_CURVES));
  return lines.filter((line) => chosen.has(line));
}

/** What is built today, and what fails more. */
function highlighted(lines: readonly GroupLine[]): string[] {
  const chosen = lines.toSorted((a, b) => Number(standsOut(b)) - Number(standsOut(a)));
  return chosen
    .filter((line) => line.current || standsOut(line))
    .map(({ group }) => group)
    .slice(0, MOST_BANDS);
}

function forestRow(line: GroupLine) {
  const ratio = line.effect?.ratio ?? null;
  if (ratio === null || line.effect === null || hangsOnDelay(line.effect)) return [];
  return [{ name: line.group, ratio: ratio.ratio, lower: ratio.lower, upper: ratio.upper, strong: standsOut(line) }];
}

function forestSentence(lines: readonly GroupLine[], many: string): string {
  const worse = lines.filter(standsOut).map(({ group }) => group);
  const how = `A mark right of 1 fails more often than the other ${many} at equal age, left of it less often; each bar by itself holds the truth with 95 % confidence, with few failures 92 to 99 times in 100, and a bar across 1 may be chance.`;
  const hanging = lines.filter(({ effect }) => effect !== null && hangsOnDelay(effect)).map(({ group }) => group);
  const left =
    hanging.length === 0
      ? ""
      : ` Not drawn, since how long their failures take to be confirmed could alone make the difference: ${hanging.join(", ")}. ${settledSoonSentence}`;
  return `${how} ${worse.length === 0 ? "None stands out here." : `Filled and bold: ${worse.join(", ")}.`}${left}`;
}
