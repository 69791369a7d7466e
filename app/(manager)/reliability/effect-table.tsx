import { type Column, DataTable } from "@/app/_components/data-table";
import { type CompareBy, compareByWords } from "@/lib/reliability/compare-by";
import { hangsOnDelay } from "@/lib/reliability/compare-strata";
import { sayP } from "@/lib/reliability/plain-share";
import type { GroupLine } from "@/lib/reliability/watch-answers";
import { hangsOnDelayWords, ratioBetween, sayRatio } from "@/lib/reliability/worse-sentences";
import { GroupLink } from "./group-link";
import { ComparedLink } from "./packs/compared-link";
import { PacksLink } from "./packs/packs-link";

const columns: readonly Column<GroupLine>[] = [
  {
    head: "To be expected",
    numeric: true,
    cell: ({ effect }) => (effect === null || effect.p === null ? "" : effect.expected.toFixed(1)),
  },
  { head: "Times as often as the others", numeric: true, cell: ({ effect }) => sayEffect(effect) },
  {
    head: "95 % limits",
    numeric: true,
    cell: ({ effect }) => (effect?.ratio == null || hangsOnDelay(effect) ? "" : ratioBetween(effect.ratio)),
  },
  {
    head: "By itself",
    numeric: true,
    cell: ({ effect }) => (effect === null || effect.p === null ? "" : sayP(effect.p)),
  },
  {
    head: "Adjusted for all groups",
    numeric: true,
    cell: ({ effect }) => (effect === null || effect.adjustedP === null ? "" : sayP(effect.adjustedP)),
  },
];

function sayEffect(effect: GroupLine["effect"]): string {
  if (effect !== null && hangsOnDelay(effect)) return hangsOnDelayWords;
  if (effect?.ratio == null) return "cannot tell yet";
  return effect.ratio.ratio === null ? "only it failed" : sayRatio(effect.ratio.ratio);
}

interface EffectTableProps {
  readonly by: CompareBy;
  readonly caption: string;
  readonly lines: readonly GroupLine[];
}

/** The numbers of the picture of ratios, one row a group, each with the way to its page. */
export function EffectTable({ by, caption, lines }: EffectTableProps) {
  const name: Column<GroupLine> = {
    head: compareByWords[by].name,
    cell: ({ group }) => (
      <GroupLink by={by} group={group}>
        {group}
      </GroupLink>
    ),
  };
  const failures: Column<GroupLine> = {
    head: "Failures",
    numeric: true,
    cell: ({ group, effect }) =>
      effect === null ? (
        "none"
      ) : (
        <PacksLink by={by} group={group} list="failures" count={effect.observed + effect.alone} />
      ),
  };
  const compared: Column<GroupLine> = {
    head: "Of these compared",
    numeric: true,
    cell: ({ effect }) => (effect === null || effect.p === null ? "" : <ComparedLink by={by} of={effect} />),
  };
  return (
    <DataTable
      entriesWhenNarrow
      caption={caption}
      columns={[name, failures, compared, ...columns]}
      rows={lines}
      rowKey={({ group }) => group}
      whenEmpty="There is no group to compare."
    />
  );
}
