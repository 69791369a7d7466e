import { LocalTime } from "@/app/_components/local-time";
import type { ContactView } from "@/lib/data/returns/safety-contact";
import { contactEventWords } from "@/lib/returns/contact-events";

/** Who gave the contact, changed it or erased it, and when; never what it was. */
export function ContactEvents({ events }: Pick<ContactView, "events">) {
  if (events.length === 0) return null;
  return (
    <ul className="list-disc space-y-1 pl-5">
      {events.map(({ kind, byName, at }) => (
        <li key={`${at.toISOString()} ${kind}`}>
          {byName} {contactEventWords[kind]}, <LocalTime at={at} />
        </li>
      ))}
    </ul>
  );
}
