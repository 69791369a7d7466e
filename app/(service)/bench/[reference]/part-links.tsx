const parts = [
  { href: "#pack", label: "The pack" },
  { href: "#readings", label: "The readings" },
  { href: "#next", label: "What to do" },
] as const;

/** Where the three parts stand one below the other, the last is far away: one tap leads to each. */
export function PartLinks() {
  return (
    <nav aria-label="Parts of this page" className="screen-only flex flex-wrap gap-x-5 lg:hidden">
      {parts.map(({ href, label }) => (
        <a
          key={href}
          href={href}
          className="flex min-h-11 items-center font-semibold text-accent underline underline-offset-4"
        >
          {label}
        </a>
      ))}
    </nav>
  );
}
