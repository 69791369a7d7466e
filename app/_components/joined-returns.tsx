import Link from "next/link";
import { SerialText } from "./serial-text";

interface JoinedReturnsProps {
  /** Where a return is read: the address up to its reference. */
  readonly under: string;
  readonly into: string | null;
  readonly from: readonly string[];
}

/** Says that a return goes on in another, or that others go on in it, with the way there. */
export function JoinedReturns({ under, into, from }: JoinedReturnsProps) {
  if (into === null && from.length === 0) return null;
  const to = (reference: string) => (
    <Link
      key={reference}
      href={`${under}/${reference}`}
      className="font-semibold text-accent underline underline-offset-4"
    >
      <SerialText>{reference}</SerialText>
    </Link>
  );
  return (
    <p className="flex flex-wrap gap-x-2">
      {into === null ? <>Goes on here as well: {from.map(to)}</> : <>It goes on in {to(into)}</>}
    </p>
  );
}
