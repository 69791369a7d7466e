import { plainNumber } from "@/lib/readings/plain-number";

/** A counter of charge may run a little past its ends; further out is no state of charge, % (engineering default, no authority). */
const believableSocPercent = { least: -5, most: 105 } as const;

/** Takes values that are no state of charge for not measured, in place, and says how many and where the first stood. */
export function dropImpossibleSoc(socPercent: Float64Array | null, line: Int32Array): string[] {
  let dropped = 0;
  let first = { percent: 0, line: 0 };
  for (let row = 0; socPercent !== null && row < socPercent.length; row++) {
    const percent = socPercent[row] ?? Number.NaN;
    if (Number.isNaN(percent) || (percent >= believableSocPercent.least && percent <= believableSocPercent.most))
      continue;
    if (dropped === 0) first = { percent, line: line[row] ?? 0 };
    dropped++;
    socPercent[row] = Number.NaN;
  }
  if (dropped === 0) return [];
  const what =
    dropped === 1
      ? `One value of the state of charge lies outside 0 to 100 % (${plainNumber(first.percent)} %, in line ${first.line}); it counts`
      : `${plainNumber(dropped)} values of the state of charge lie outside 0 to 100 % (the first, ${plainNumber(first.percent)} %, in line ${first.line}); they count`;
  return [`${what} as not measured.`];
}
