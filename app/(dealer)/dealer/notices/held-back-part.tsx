import Link from "next/link";
import { SerialText } from "@/app/_components/serial-text";
import type { OwnHeldBackPack } from "@/lib/data/safety/own-held-back";

const whereWords: Readonly<Record<OwnHeldBackPack["where"], string>> = {
  "on-loan": "On loan to a customer, for",
  "under-a-return": "With you or its customer, under",
  "in-stock": "In your stock",
};

/** What this workshop has of packs that the maker holds back now, one by one, with what to do meanwhile. */
export function HeldBackPart({ packs }: { packs: readonly OwnHeldBackPack[] }) {
  if (packs.length === 0) return null;
  return (
    <section className="card space-y-3 border-2 border-danger p-4" aria-labelledby="held-back">
      <h2 id="held-back" className="text-lg">
        Packs with you that are held back
      </h2>
      <p>
        They may share a fault. Sell, lend and hand over none of them. Where a customer rides one on loan, tell the
        customer today and take it back; ask the maker’s service desk where you are unsure.
      </p>
      <ul className="space-y-2">
        {packs.map(({ serialShown, where, reference }) => (
          <li key={`${serialShown} ${where}`}>
            <SerialText>{serialShown}</SerialText>
            <br />
            {whereWords[where]}{" "}
            {reference === null ? null : (
              <Link href={`/dealer/returns/${reference}`} className="text-accent underline underline-offset-4">
                {reference}
              </Link>
            )}
          </li>
        ))}
      </ul>
    </section>
  );
}
