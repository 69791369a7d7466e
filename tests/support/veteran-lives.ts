import type { Life } from "./lives";
import { livesIn } from "./published-lives";

/** Days survived per treatment and cell type; a plus sign marks "still alive". */
const days = [
  { treatment: 1, cellType: "squamous", days: "72 411 228 126 118 10 82 110 314 100+ 42 8 144 25+ 11" },
  {
    treatment: 1,
    cellType: "smallcell",
    days: "30 384 4 54 13 123+ 97+ 153 59 117 16 151 22 56 21 18 139 20 31 52 287 18 51 122 27 54 7 63 392 10",
  },
  { treatment: 1, cellType: "adeno", days: "8 92 35 117 132 12 162 3 95" },
  { treatment: 1, cellType: "large", days: "177 162 216 553 278 12 260 200 156 182+ 143 105 103 250 100" },
  {
    treatment: 2,
    cellType: "squamous",
    days: "999 112 87+ 231+ 242 991 111 1 587 389 33 25 357 467 201 1 30 44 283 15",
  },
  { treatment: 2, cellType: "smallcell", days: "25 103+ 21 13 87 2 20 7 24 99 8 99 61 25 95 80 51 29" },
  { treatment: 2, cellType: "adeno", days: "24 18 83+ 31 51 90 52 73 8 36 48 7 140 186 84 19 45 80" },
  { treatment: 2, cellType: "large", days: "52 164 19 53 15 43 340 133 111 231 378 49" },
] as const;

type Arm = (typeof days)[number];

/**
 * Lives of the lung cancer trial of the US Veterans Administration, all or those of some arms.
 * Source: Kalbfleisch & Prentice, The Statistical Analysis of Failure Time Data (1980), appendix 1; R package survival,
 * `veteran`.
 */
export function veteranLives(belongs: (arm: Arm) => boolean = () => true): Life[] {
  return days.filter(belongs).flatMap((arm) => livesIn(arm.days));
}
