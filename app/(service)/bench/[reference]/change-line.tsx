import { LocalTime } from "@/app/_components/local-time";
import { SerialText } from "@/app/_components/serial-text";
import type { PackChange } from "@/lib/repair/as-maintained";
import { operationOf } from "@/lib/repair/operations";

/** One change of a pack: what, where, with which part, what it measured afterwards, by whom and when. */
export function ChangeLine({ change }: { change: PackChange }) {
  const { at, operation, lot, identity, firmware, groups, resistanceMilliohm, note, byName, reference } = change;
  const details = [
    ...(groups.length === 0 ? [] : [`group ${groups.join(", ")}`]),
    ...(lot === null ? [] : [`lot ${lot.code}`]),
    ...(identity === null ? [] : [`board ${identity}`]),
    ...(firmware === null ? [] : [`firmware ${firmware}`]),
    ...(resistanceMilliohm.length === 0 ? [] : [`now ${resistanceMilliohm.join("; ")} mΩ`]),
  ];
  return (
    <li className="border-l-4 border-edge pl-3">
      <strong>{operationOf(operation).label}</strong>
      {details.length === 0 ? "" : `: ${details.join(", ")}`}
      <span dir="auto" className="block whitespace-pre-line">
        {note}
      </span>
      <span className="block text-sm text-soft">
        {byName}, <LocalTime at={at} />, under <SerialText>{reference}</SerialText>
      </span>
    </li>
  );
}
