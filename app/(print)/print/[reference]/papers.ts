/** Papers a sheet can be printed on. Sizes: ISO 216 (A4), ANSI/ASME Y14.1 (Letter), the usual parcel label (100 x 150 mm). */
const papers = ["a4", "letter", "100x150"] as const;
export type Paper = (typeof papers)[number];

interface PaperFacts {
  readonly label: string;
  /** Width and height as CSS takes them. */
  readonly size: string;
  readonly marginMm: number;
}

export const paperFacts: Readonly<Record<Paper, PaperFacts>> = {
  a4: { label: "A4", size: "210mm 297mm", marginMm: 14 },
  letter: { label: "Letter", size: "8.5in 11in", marginMm: 14 },
  "100x150": { label: "100 x 150 mm", size: "100mm 150mm", marginMm: 5 },
};

/** The paper asked for in the address; the first one offered where it is none of them. */
export function readPaper(asked: string | string[] | undefined, offered: readonly [Paper, ...Paper[]]): Paper {
  return offered.find((paper) => paper === asked) ?? offered[0];
}
