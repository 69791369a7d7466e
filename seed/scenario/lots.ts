import type { CalendarDate } from "@/lib/warranty/calendar";
import { plusDays } from "@/lib/warranty/calendar";
import type { ScenarioLot, ScenarioLotKind } from "./scenario";
import { stableId } from "./stable-id";
import type { StoryCalendar } from "./story-calendar";

/** A lot and the days on which it was built in, `from` included, `until` not. */
export interface LotUse {
  readonly lot: ScenarioLot;
  readonly modelCode: string;
  readonly from: CalendarDate;
  readonly until: CalendarDate;
}

/** The one bad lot of the story. Its cells lose capacity early and some leak from inside. */
export const badCellLotCode = "CBR-09";
const badLotFrom = "2025-03-31";
const badLotUntil = "2025-06-16";

/** Days that one lot lasts, and its suppliers in turn. */
const rhythms: readonly { kind: ScenarioLotKind; letter: string; days: number; suppliers: readonly string[] }[] = [
  { kind: "cell", letter: "C", days: 70, suppliers: ["S1", "S2"] },
  { kind: "joining", letter: "J", days: 28, suppliers: ["LINE-1", "LINE-2"] },
  { kind: "potting", letter: "P", days: 42, suppliers: ["S7"] },
  { kind: "board", letter: "B", days: 91, suppliers: ["S4", "S5"] },
];

const firstDay = "2023-09-11";
const modelCodes = ["BR", "GW", "TF"] as const;

export function buildLotUses(at: StoryCalendar, asOf: CalendarDate): LotUse[] {
  const uses: LotUse[] = [];
  for (const modelCode of modelCodes) {
    for (const { kind, letter, days, suppliers } of rhythms) {
      let from = at(firstDay);
      for (let number = 1; from <= asOf; number++) {
        const code = `${letter}${modelCode}-${String(number).padStart(2, "0")}`;
        const until = lotEnd(code, plusDays(from, days), at);
        const supplierCode = suppliers[number % suppliers.length] ?? "S1";
        uses.push({ lot: lotOf(code, kind, supplierCode, plusDays(from, -9)), modelCode, from, until });
        from = until;
      }
    }
  }
  return uses;
}

/** The lots that were open on the line on that day, one of each kind; potting only for potted packs. */
export function lotsOnDay(uses: readonly LotUse[], modelCode: string, day: CalendarDate, potted: boolean): string[] {
  return uses
    .filter((use) => use.modelCode === modelCode && use.from <= day && day < use.until)
    .filter((use) => potted || use.lot.kind !== "potting")
    .map((use) => use.lot.code);
}

/** The bad lot came as one big delivery: the lot before it ends where it begins, and it ends on a day of its own. */
function lotEnd(code: string, usual: CalendarDate, at: StoryCalendar): CalendarDate {
  if (code === "CBR-08") {
    return at(badLotFrom);
  }
  return code === badCellLotCode ? at(badLotUntil) : usual;
}

function lotOf(code: string, kind: ScenarioLotKind, supplierCode: string, receivedOn: CalendarDate): ScenarioLot {
  return { id: stableId("lot", code, `${receivedOn}T08:00:00Z`), code, kind, supplierCode, receivedOn };
}
