import { type ReactNode, useId } from "react";
import { SerialText } from "@/app/_components/serial-text";
import { Stamp } from "@/app/_components/status-line";
import type { Actor } from "@/lib/access/actor";
import { isPackOnHold } from "@/lib/data/returns/on-hold";

interface SectionProps {
  readonly title: string;
  readonly children: ReactNode;
}

/** One part of a column, under its own heading. */
export function BenchSection(props: SectionProps) {
  return <Section Heading="h3" {...props} />;
}

/** One part of a page of work that has no columns of its own: the same to look at, right below the page's heading. */
export function WorkSection(props: SectionProps) {
  return <Section Heading="h2" {...props} />;
}

interface WorkHeadingProps {
  readonly actor: Actor;
  readonly work: string;
  readonly reference: string;
}

/** Whose page of work this is: what is done, and on which return; and whether its pack has to be kept as it is. */
export async function WorkHeading({ actor, work, reference }: WorkHeadingProps) {
  return (
    <>
      <h1>
        <span className="caption-print block">{work}</span>
        <SerialText large>{reference}</SerialText>
      </h1>
      {(await isPackOnHold(actor, reference)) ? (
        <p className="my-2">
          <HeldStamp />
        </p>
      ) : null}
    </>
  );
}

/** Wherever a hand is about to act on it: the pack is evidence. */
export function HeldStamp() {
  return <Stamp tone="warn">Legal hold: evidence, kept as it is</Stamp>;
}

function Section({ Heading, title, children }: SectionProps & { readonly Heading: "h2" | "h3" }) {
  const id = useId();
  return (
    <section aria-labelledby={id} className="space-y-3">
      <Heading id={id} className="border-b border-edge pb-1 text-base font-bold">
        {title}
      </Heading>
      {children}
    </section>
  );
}

/** One of the three columns: who and what it is, what the readings show, what to do next. */
export function BenchColumn({ id, title, children }: { id: string; title: string; children: ReactNode }) {
  return (
    <section aria-labelledby={id} className="min-w-0 space-y-6">
      <h2 id={id} className="border-b-2 border-ink pb-1">
        {title}
      </h2>
      {children}
    </section>
  );
}
