import { LocalTime } from "@/app/_components/local-time";
import type { ContactView } from "@/lib/data/returns/safety-contact";

/** Who of the house looked at the contact, and why. */
export function RevealList({ reveals }: Pick<ContactView, "reveals">) {
  if (reveals.length === 0) return <p className="text-soft">Nobody at the maker has looked at it.</p>;
  return (
    <ul className="list-disc space-y-1 pl-5">
      {reveals.map(({ byName, why, at }) => (
        <li key={at.toISOString()}>
          {byName} looked at it, <LocalTime at={at} />: {why}
        </li>
      ))}
    </ul>
  );
}
