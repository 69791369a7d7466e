import { calendarDate } from "./calendar";
import { AT_SET_UP, type LegalDuty, type LegalSource } from "./legal-duty";

const directive: LegalSource = { named: "Directive (EU) 2019/771, Art. 10, 11 and 13", mark: "read in a summary" };
const amending: LegalSource = {
  named: "Directive (EU) 2024/1799, Art. 16, amending Directive (EU) 2019/771, for contracts from 31 July 2026",
  mark: "read in a summary",
};
const olderDirective: LegalSource = { named: "Directive 1999/44/EC, Art. 3 and 5", mark: "from memory: verify" };

const noFixedTime = {
  months: null,
  monthsAfterRepair: 0,
  repairsThatLengthen: 1,
  consumerChooses: false,
  informBeforeRemedy: false,
  refurbishedOnRequest: false,
} as const;

type Terms = Omit<LegalDuty, "version" | "countsFrom" | "confirmation">;

interface UnionTerms {
  /** First day of the older directive in the country: its own day, or the accession. */
  readonly olderFrom?: string;
  readonly olderMonths?: number;
  readonly months?: number;
  readonly burdenMonths?: number;
  /** First day of the law that carried the directive of 2019 out, where that came later than it was due (1 January 2022). */
  readonly carriedOutFrom?: string;
  readonly rejectDays?: number | null;
  /** What a repair added by national law before the directive added its own, and how many repairs did. */
  readonly repairAddsMonths?: number;
  readonly repairsThatLengthen?: number;
  readonly national?: readonly LegalSource[];
}

/** Accessions after the older directive was due (1 January 2002); from memory: verify. Its rows begin with the accession. */
const accessions: Readonly<Record<string, string>> = {
  CY: "2004-05-01",
  CZ: "2004-05-01",
  EE: "2004-05-01",
  HU: "2004-05-01",
  LT: "2004-05-01",
  LV: "2004-05-01",
  MT: "2004-05-01",
  PL: "2004-05-01",
  SI: "2004-05-01",
  SK: "2004-05-01",
  BG: "2007-01-01",
  RO: "2007-01-01",
  HR: "2013-07-01",
};

/** Rows of a member state: the older directive, the directive of 2019, and what was added on 31 July 2026. */
function unionRows(
  country: string,
  {
    months = 24,
    burdenMonths = 12,
    national = [],
    olderFrom = accessions[country] ?? "2002-01-01",
    olderMonths = 24,
    carriedOutFrom = "2022-01-01",
    rejectDays = null,
    repairAddsMonths = 0,
    repairsThatLengthen = 1,
  }: UnionTerms = {},
): Terms[] {
  const common = { country, insteadOfMonths: null, consumerChooses: true };
  const plain = { informBeforeRemedy: false, refurbishedOnRequest: false };
  return [
    {
      ...common,
      ...plain,
      salesFrom: calendarDate(olderFrom),
      months: olderMonths,
      burdenMonths: 6,
      rejectDays: null,
      monthsAfterRepair: 0,
      repairsThatLengthen: 1,
      sources: [olderDirective, ...(olderMonths === 24 ? [] : national)],
    },
    {
      ...common,
      ...plain,
      salesFrom: calendarDate(carriedOutFrom),
      months,
      burdenMonths,
      rejectDays,
      monthsAfterRepair: repairAddsMonths,
      repairsThatLengthen,
      sources: [directive, ...national],
    },
    {
      ...common,
      salesFrom: calendarDate("2026-07-31"),
      months,
      burdenMonths,
      rejectDays,
      monthsAfterRepair: 12,
      repairsThatLengthen: 1,
      informBeforeRemedy: true,
      refurbishedOnRequest: true,
      sources: [directive, amending, ...national],
    },
  ];
}

const memory = (named: string): LegalSource => ({ named, mark: "from memory: verify" });

interface NationalTerms extends Pick<UnionTerms, "rejectDays" | "carriedOutFrom"> {
  readonly insteadOfMonths: string;
  readonly national: readonly LegalSource[];
}

/** Rows of a member state whose own law names no fixed time: the directive's Art. 10(3) lets it go further than two years. */
function nationalTimeRows(country: string, { insteadOfMonths, national, ...terms }: NationalTerms): Terms[] {
  return unionRows(country, { ...terms, national }).map((row) => ({
    ...row,
    months: null,
    insteadOfMonths,
    sources: [...row.sources.filter((source) => !national.includes(source)), ...national],
  }));
}

const takenAtTheMinimum = memory("That national law adds nothing to the directive here");

/** Member states whose terms are taken to be the directive's own minimum; national law may go further. */
const AT_THE_MINIMUM = [
  "AT",
  "BE",
  "BG",
  "CY",
  "CZ",
  "DE",
  "DK",
  "EE",
  "GR",
  "HR",
  "HU",
  "IT",
  "LT",
  "LU",
  "LV",
  "MT",
  "RO",
  "SI",
  "SK",
];

const terms: readonly Terms[] = [
  // For a state of the Union or its economic area whose own law is not held here: the directives alone.
  ...unionRows("EU"),
  ...AT_THE_MINIMUM.flatMap((country) => unionRows(country, { national: [takenAtTheMinimum] })),
  {
    country: "PL",
    salesFrom: calendarDate("2014-12-25"),
    ...{ months: 24, insteadOfMonths: null, burdenMonths: 12, rejectDays: null },
    consumerChooses: true,
    ...{ monthsAfterRepair: 0, repairsThatLengthen: 1, informBeforeRemedy: false, refurbishedOnRequest: false },
    sources: [olderDirective, memory("Kodeks cywilny, Art. 556(2) and 568, from 25 December 2014")],
  },
  ...unionRows("PL", {
    burdenMonths: 24,
    carriedOutFrom: "2023-01-01",
    national: [memory("Ustawa o prawach konsumenta, Art. 43b and 43c, from 1 January 2023")],
  }),
  ...unionRows("FR", {
    burdenMonths: 24,
    repairAddsMonths: 6,
    national: [
      memory("Code de la consommation, Art. L217-3 and L217-7"),
      {
        named:
          "Code de la consommation, Art. L217-13: six months more after a repair (how they stand beside the directive's 12 months: ask counsel); where a repair was chosen and another pack is given instead, a new term begins with its delivery, which is not counted here",
        mark: "read in the text of the law",
      },
    ],
  }),
  ...unionRows("ES", {
    months: 36,
    burdenMonths: 24,
    national: [memory("Real Decreto Legislativo 1/2007, Art. 120 and 121")],
  }),
  ...unionRows("PT", {
    months: 36,
    burdenMonths: 24,
    rejectDays: 30,
    repairAddsMonths: 6,
    repairsThatLengthen: 4,
    national: [
      memory("Decreto-Lei 84/2021, Art. 12 and 13"),
      {
        named:
          "Decreto-Lei 84/2021, as lawyers and a consumers' page explain it: within 30 days replacement or termination as the consumer chooses; six months more for each repair, four at the most (how they stand beside the directive's 12 months: ask counsel)",
        mark: "read in a summary",
      },
    ],
  }),
  // Three years in Sweden since 1 April 2005 already (from memory: verify).
  ...unionRows("SE", {
    olderFrom: "2005-04-01",
    olderMonths: 36,
    months: 36,
    burdenMonths: 24,
    national: [memory("Konsumentköplag (1990:932), 23 §, and konsumentköplag (2022:260)")],
  }),
  ...nationalTimeRows("IE", {
    insteadOfMonths: "The law names no fixed time for a fault to appear; a claim can be brought for six years.",
    rejectDays: 30,
    carriedOutFrom: "2022-11-29",
    national: [memory("Consumer Rights Act 2022, Part 2, from 29 November 2022; Statute of Limitations 1957, s. 11")],
  }),
  ...nationalTimeRows("NL", {
    insteadOfMonths: "The law names no fixed time: the goods must last as long as a buyer may expect of such goods.",
    national: [memory("Burgerlijk Wetboek, Boek 7, art. 17, 18a, 21 and 23")],
  }),
  ...nationalTimeRows("FI", {
    insteadOfMonths: "The law names no fixed time: the goods must last as long as is usually expected of such goods.",
    national: [memory("Kuluttajansuojalaki (38/1978), chapter 5")],
  }),
  {
    ...noFixedTime,
    country: "GB",
    consumerChooses: true,
    salesFrom: calendarDate("2015-10-01"),
    insteadOfMonths: "The law names no fixed time; a claim can usually be brought for six years, in Scotland five.",
    burdenMonths: 6,
    rejectDays: 30,
    sources: [
      { named: "Consumer Rights Act 2015, s. 22 (30 days, paused during a repair)", mark: "read in a summary" },
      memory("Consumer Rights Act 2015, ss. 19(14), 23 and 24; Limitation Act 1980, s. 5"),
    ],
  },
  {
    ...noFixedTime,
    country: "US",
    salesFrom: calendarDate("1975-07-04"),
    insteadOfMonths:
      "Implied warranties are the law of each state, and their time differs; the written warranty may not disclaim them.",
    burdenMonths: null,
    rejectDays: null,
    sources: [
      { named: "16 CFR 700 and 701 (Magnuson-Moss Warranty Act)", mark: "read in a summary" },
      memory("15 USC 2308; Uniform Commercial Code 2-314 and 2-725"),
    ],
  },
  {
    ...noFixedTime,
    country: "AU",
    salesFrom: calendarDate("2011-01-01"),
    insteadOfMonths:
      "The consumer guarantees last as long as is reasonable for such goods; after a major failure the consumer chooses.",
    burdenMonths: null,
    rejectDays: null,
    sources: [
      {
        named: "Australian Consumer Law (Competition and Consumer Act 2010, Sch. 2), as the regulators explain it",
        mark: "read in a summary",
      },
      memory("Australian Consumer Law, ss. 54, 259 to 263"),
    ],
  },
  {
    ...noFixedTime,
    country: "IN",
    salesFrom: calendarDate("2020-07-20"),
    insteadOfMonths:
      "The law names no fixed time for a fault to appear; a complaint to a consumer commission can be brought within two years of its cause.",
    burdenMonths: null,
    rejectDays: null,
    sources: [
      memory("Consumer Protection Act, 2019, ss. 2(10), 39, 69 and 82 to 87"),
      memory("Sale of Goods Act, 1930, ss. 16 and 17"),
    ],
  },
];

/** What the program comes with. None of it was confirmed by counsel; the house proposes its own rows over these. */
export const legalDuties: readonly LegalDuty[] = terms.map((row) => ({
  ...row,
  version: AT_SET_UP,
  countsFrom: null,
  confirmation: null,
}));
