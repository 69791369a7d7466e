import { SurvivalChart } from "@/app/_components/charts/survival-chart";
import { SurvivalTable } from "@/app/_components/charts/survival-table";
import { Notice } from "@/app/_components/notice";
import type { RevisionLine } from "@/lib/data/reliability";
import { naiveTrapSentence } from "@/lib/reliability/naive-trap";
import { overlapSentence, type StandsOut } from "@/lib/reliability/what-stands-out";
import { RevisionLink } from "./revision-link";

interface ModelPartProps {
  readonly modelName: string;
  readonly dataDate: string;
  readonly lines: readonly RevisionLine[];
  readonly answer: StandsOut;
}

/** One model: the picture, the table, what cannot be told apart, and why the simple ratio misleads. */
export function ModelPart({ modelName, dataDate, lines, answer }: ModelPartProps) {
  const id = `model-${lines[0]?.group ?? "none"}`;
  const comparisons = (answer.kind === "cannot-tell" ? [] : answer.comparisons).filter(
    (comparison) => comparison.modelName === modelName,
  );
  const overlapping = comparisons.filter(({ apart }) => !apart);
  return (
    <section aria-labelledby={id} className="space-y-4">
      <h2 id={id} className="border-b-2 border-ink pb-1">
        {modelName}
      </h2>
      <div className="grid gap-x-8 gap-y-5 xl:grid-cols-[minmax(0,3fr)_minmax(0,2fr)]">
        <SurvivalChart
          id={`${id}-curves`}
          title={`${modelName}: share of packs failed by age, up to ${dataDate}`}
          reports={lines}
          highlighted={highlighted(lines, answer)}
        />
        <div className="space-y-4">
          <h3 className="sr-only">Its revisions</h3>
          <ul className="space-y-3">
            {lines.map((line) => (
              <li key={line.group} className="border-l-4 border-rule pl-3">
                <p>
                  <RevisionLink code={line.group}>{line.group}</RevisionLink>
                  {line.current ? <strong>, built today</strong> : null}
                </p>
                <p>{line.sentence}</p>
              </li>
            ))}
          </ul>
        </div>
      </div>
      <SurvivalTable caption={`${modelName}, revision by revision, up to ${dataDate}`} reports={lines} />
      {overlapping.length === 0 ? null : (
        <ul className="list-disc space-y-1 pl-5">
          {overlapping.map((comparison) => (
            <li key={`${comparison.higher.group} ${comparison.lower.group}`}>{overlapSentence(comparison)}</li>
          ))}
        </ul>
      )}
      <Notice kind="caution" title="The last column misleads">
        <p>{naiveTrapSentence(lines, comparisons)}</p>
      </Notice>
    </section>
  );
}

/** What is built today, and what fails more: more than three bands cannot be told apart. */
function highlighted(lines: readonly RevisionLine[], answer: StandsOut): string[] {
  const worse = answer.kind === "stands-out" ? answer.worse.map(({ higher }) => higher.group) : [];
  const excess = "excess" in answer ? answer.excess.map(({ group }) => group) : [];
  const named = [...worse, ...excess];
  const chosen = lines.filter(({ group, current }) => current || named.includes(group));
  return chosen.map(({ group }) => group).slice(-MOST_BANDS);
}

const MOST_BANDS = 3;
