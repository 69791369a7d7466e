import "server-only";
import type { WayBack } from "@/lib/warranty/absences";
import type { CalendarDate } from "@/lib/warranty/calendar";
import { civilDateAt } from "@/lib/warranty/place-of-sale";

interface CustodyMove {
  readonly at: Date;
  readonly from: string;
  readonly to: string;
}

/** Moves in order of time. When scans say that the pack of a return left its user first and was back last, by a day where one is given; days in the zone of the dealer. */
export function custodyDays(
  moves: readonly CustodyMove[],
  zone: string,
  by?: CalendarDate,
): Pick<WayBack, "leftUserOn" | "backWithUserOn" | "isElsewhere"> {
  const last = moves.findLast(({ at }) => by === undefined || civilDateAt(at, zone) <= by);
  const isElsewhere = last !== undefined && last.to !== "with-customer";
  const days = (of: "from" | "to") =>
    moves
      .filter((move) => move[of] === "with-customer")
      .map(({ at }) => civilDateAt(at, zone))
      .filter((day) => by === undefined || day <= by)
      .sort();
  return { leftUserOn: days("from")[0] ?? null, backWithUserOn: days("to").at(-1) ?? null, isElsewhere };
}
