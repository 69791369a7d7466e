import Link from "next/link";
import type { Actor } from "@/lib/access/actor";
import { may } from "@/lib/access/may";

const pages = [
  { href: "/reliability/forecast", label: "Failures to come" },
  { href: "/reliability/reserve", label: "Until the end of cover" },
  { href: "/reliability/kept", label: "Forecasts kept" },
  { href: "/reliability/costs", label: "What a return costs" },
] as const;

/** The pages about what is to come; finance has these and not the failure rates. */
export function ForecastNav({ actor, current }: { actor: Actor; current: (typeof pages)[number]["href"] }) {
  const rates = may(actor, "read-reliability") ? [{ href: "/reliability", label: "Failure rates" }] : [];
  return (
    <nav aria-label="What is to come" className="flex flex-wrap gap-x-6">
      {[...rates, ...pages].map(({ href, label }) => (
        <Link
          key={href}
          href={href}
          prefetch={false}
          {...(href === current ? { "aria-current": "page" as const } : {})}
          className="inline-flex min-h-11 items-center text-accent underline underline-offset-4 aria-[current=page]:font-bold aria-[current=page]:text-ink aria-[current=page]:no-underline"
        >
          {label}
        </Link>
      ))}
    </nav>
  );
}
