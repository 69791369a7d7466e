import type { Life } from "./lives";

/**
 * Published lives typed in, each with its source: ages in the order printed, "+" still running, "x3" three alike.
 * Where the folder of open data is present, `published-lives.test.ts` holds them against its files.
 */
const typed = {
  // NIST/SEMATECH e-Handbook of Statistical Methods, 8.4.1.3: hours, ten units censored at 500.
  "NIST e-Handbook 8.4.1.3": `
    54 187 216 240 244 335 361 373 375 386 500+x10`,
  // O'Connor, Practical Reliability Engineering (1985): kilometres of shock absorbers; Meeker & Escobar (1998), appendix C.
  "Shock absorber (O'Connor 1985; M&E 1998)": `
    6700 6950+ 7820+ 8790+ 9120 9660+ 9820+ 11310+ 11690+ 11850+ 11880+ 12140+ 12200 12870+ 13150 13330+ 13470+ 14040+
    14300 17520 17540+ 17890+ 18450+ 18960+ 18980+ 19410+ 20100 20100+ 20150+ 20320+ 20900 22700 23490+ 26510 27410+
    27490 27890+ 28100+`,
  // Lieblein & Zelen, J. Res. NBS 57 (1956) 273-316: millions of revolutions. The seventh is in print as 48.40, 48.48 and 48.80.
  "Lieblein-Zelen bearing (7th obs 48.40)": `
    17.88 28.92 33 41.52 42.12 45.6 48.4 51.84 51.96 54.12 55.56 67.8 68.64 68.64 68.88 84.12 93.12 98.64 105.12
    105.84 127.92 128.04 173.4`,
  // AFWAL-TR-83-2079, Weibull Analysis Handbook (1983): hours; Meeker & Escobar (1998), example 8.16.
  "Bearing cage (Abernethy 1983)": `
    50+x288 150+x148 230 250+x124 334 350+x111 423 450+x106 550+x99 650+x110 750+x114 850+x119 950+x127 990 1009
    1050+x123 1150+x93 1250+x47 1350+x41 1450+x27 1510 1550+x11 1650+x6 1850+ 2050+x2`,
  // Nelson, Applied Life Data Analysis (1982): hours of diesel generator fans.
  "Nelson diesel fan (1969/1982)": `
    450 460+ 1150x2 1560+ 1600 1660+ 1850+x5 2030+x3 2070x2 2080 2200+ 3000+x4 3100 3200+ 3450 3750+x2 4150+x4 4300+x4
    4600 4850+x4 5000+x3 6100+x3 6100 6300+ 6450+x2 6700+ 7450+ 7800+x2 8100+x2 8200+ 8500+x3 8750+x2 8750 9400+ 9900+
    10100+x3 11500+`,
  // Freireich et al., Blood 21 (1963) 699-716, as analysed by Gehan, Biometrika 52 (1965) 203-223: weeks in remission.
  "Gehan 6-MP": `
    10 7 32+ 23 22 6 16 34+ 32+ 25+ 11+ 20+ 19+ 6 17+ 35+ 6 13 9+ 6+ 10+`,
  // The same, under placebo.
  "Gehan control": `
    1 22 3 12 8 17 2 11 8 12 2 5 4 15 8 23 5 11 4 1 8`,
  // Miller, Survival Analysis (1981): weeks in remission of leukaemia; R package survival, `aml`.
  "aml Maintained": `
    9 13 13+ 18 23 28+ 31 34 45+ 48 161+`,
  // The same, without maintenance.
  "aml Nonmaintained": `
    5 5 8 8 12 16+ 23 27 30 33 43 45`,
} as const;

export type PublishedSet = keyof typeof typed;

/**
 * Days survived with advanced lung cancer by sex (1 men, 2 women) and performance status (ECOG, null not told).
 * Source: Loprinzi et al., J. Clin. Oncol. 12 (1994) 601-607; R package survival, `lung`.
 */
const lung = [
  {
    sex: 1,
    ecog: 0,
    days: `
    455 1010+ 883 371 394 574 303 643 189 53 246 65 428 840+ 11 176 791 147 655 15 442 558 353 267 337 353 31 444+ 320
    285 300+ 284+ 259+ 286 225+ 191+`,
  },
  {
    sex: 1,
    ecog: 1,
    days: `
    306 210 1022+ 218 170 567 144 613 88 301 624 390 460 583 519 689 223 175 163 230 132 95 196+ 806+ 284 239 88 179
    310 477 364 107 156 11 429 181 283 363 207 92 60 202 457 404+ 458+ 163 229 179 142 413+ 181 301+ 197 303+ 110 270
    131 225+ 269 279+ 135 59 237+ 221+ 185+ 13 222+ 197+ 116 188+ 174+`,
  },
  {
    sex: 1,
    ecog: 2,
    days: `
    166 707 12 26 533 53 814 93 132 65 11 163 30 177 13 212 524 288 54 387 222 156 329 291 292+ 180 81 105 183`,
  },
  {
    sex: 1,
    ecog: 3,
    days: `
    118`,
  },
  {
    sex: 1,
    ecog: null,
    days: `
    71`,
  },
  {
    sex: 2,
    ecog: 0,
    days: `
    81 433 5 821+ 705 588+ 166 559+ 201 543+ 340 315+ 384+ 266+ 348 382+ 269+ 350 292+ 332+ 276+ 240+ 202+ 235+ 224+
    252+ 175+`,
  },
  {
    sex: 2,
    ecog: 1,
    days: `
    728 520 473 965+ 731 765 735 687 345 60 305 226 426 363 167 641 740+ 245 450 529+ 524 550 293 511+ 371 62 356+ 182
    364+ 376+ 268 194 296+ 186 145 272+ 243+ 79 173+ 192+ 203+ 177+`,
  },
  {
    sex: 2,
    ecog: 2,
    days: `
    310 361 654 61 107 122 153 145 95 444 208 351 199 551+ 511+ 201 285 239 92+ 211+ 105+`,
  },
] as const;

type LungStratum = (typeof lung)[number];

export function publishedLives(name: PublishedSet): Life[] {
  return livesIn(typed[name]);
}

/** All of the lung cancer lives, or those of some strata. */
export function lungLives(belongs: (stratum: LungStratum) => boolean = () => true): Life[] {
  return lung.filter(belongs).flatMap(({ days }) => livesIn(days));
}

/** Ages as printed, divided by spaces: "+" still running, "x3" three alike. */
export function livesIn(text: string): Life[] {
  return text
    .trim()
    .split(/\s+/)
    .flatMap((word) => {
      const [, age, running, count] = /^([\d.]+)(\+?)(?:x(\d+))?$/.exec(word) ?? [];
      if (age === undefined) throw new Error(`${word} is no life`);
      return Array.from({ length: Number(count ?? 1) }, (): Life => [0, Number(age), running === "+" ? 0 : 1]);
    });
}
