/** How months of sale of packs of several models are held against each other, and what a cell of them is. */
export function severalModelsSentence(models: number): string {
  return `These packs are of ${models} models, which fail differently. Each month of sale is held against the others within each model, since their mix turns from month to month; the numbers in the cells put the models together. Choose one to see it alone.`;
}

/** What curve, law and rate of a group are that has packs of several models. */
export const togetherSentence =
  "Its packs are of several models, which fail differently. It is held against other groups within each model alone; but curve, shares, faults, law, rate and repeated returns below are of all its packs together, so they are no measure to hold it against another group by, and a turn in its mix of models reads as a change of its packs. Each model by itself, with all of these, stands further down on this page, and by month of sale.";
