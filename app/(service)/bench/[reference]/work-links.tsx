import Link from "next/link";

const works = [
  { path: "transport", label: "Transport class, label and packing" },
  { path: "receiving", label: "Goods-in and quarantine" },
  { path: "tests", label: "Tests, fault and similar returns" },
  { path: "work", label: "Repair work and release" },
  { path: "remedy", label: "Remedy and replacement" },
  { path: "incident", label: "Raise a safety incident" },
] as const;

/** The pages of work that belong to this return. */
export function WorkLinks({ reference }: { reference: string }) {
  return (
    <nav aria-label="Work on this return" className="screen-only flex flex-wrap gap-x-6">
      {works.map(({ path, label }) => (
        <Link
          key={path}
          href={`/bench/${reference}/${path}`}
          className="flex min-h-11 items-center font-semibold text-accent underline underline-offset-4"
        >
          {label}
        </Link>
      ))}
    </nav>
  );
}
