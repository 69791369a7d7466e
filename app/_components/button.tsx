import Link from "next/link";
import type { ComponentProps, ReactNode } from "react";

type Weight = "main" | "second" | "plain" | "danger";

const looks: Readonly<Record<Weight, string>> = {
  main: "bg-accent text-accent-ink border-accent font-bold hover:bg-ink hover:border-ink hover:text-paper",
  second: "bg-raised text-ink border-edge font-semibold hover:border-ink hover:bg-sunk",
  plain: "border-transparent text-accent font-semibold underline underline-offset-4 hover:text-ink",
  danger: "bg-danger text-danger-ink border-danger font-bold hover:bg-ink hover:border-ink hover:text-paper",
};

const base =
  "inline-flex min-h-11 items-center justify-center gap-2 rounded border-2 px-4 py-2 text-center leading-tight no-underline cursor-pointer";

export function Button({
  weight = "main",
  className = "",
  type = "button",
  ...rest
}: ComponentProps<"button"> & { weight?: Weight }) {
  return <button type={type} className={`${base} ${looks[weight]} ${className}`} {...rest} />;
}

/** A link that is the next step of the work, and therefore looks like a button. It remains a link. */
export function ButtonLink({
  weight = "main",
  className = "",
  href,
  children,
}: {
  weight?: Weight;
  className?: string;
  href: string;
  children: ReactNode;
}) {
  return (
    <Link href={href} className={`${base} ${looks[weight]} ${className}`}>
      {children}
    </Link>
  );
}
