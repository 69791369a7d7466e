import type { Metadata } from "next";
import Link from "next/link";
import { notFound } from "next/navigation";
import { z } from "zod";
import { Button } from "@/app/_components/button";
import { type Column, DataTable } from "@/app/_components/data-table";
import { Field, TextInput } from "@/app/_components/field";
import { HouseFrame } from "@/app/_components/house-frame";
import { SerialText } from "@/app/_components/serial-text";
import { requireActor } from "@/lib/auth/session";
import { type ReplayOfAll, replayAll, replayReturn } from "@/lib/data/warranty/kept-answers";
import { ReplayPart, sayDifferences } from "./replay-part";

export const metadata: Metadata = { title: "Past answers given again" };

interface ReplayPageProps {
  readonly searchParams: Promise<Readonly<Record<string, string | string[] | undefined>>>;
}

type Row = ReplayOfAll["differing"][number];

const columns: readonly Column<Row>[] = [
  {
    head: "Return",
    cell: ({ reference }) => (
      <Link
        href={`/policies/replay?reference=${encodeURIComponent(reference)}`}
        className="underline underline-offset-4"
      >
        <SerialText>{reference}</SerialText>
      </Link>
    ),
  },
  { head: "What comes out differently", cell: ({ replay }) => sayDifferences(replay.differences).join(" ") },
];

export default async function ReplayPage({ searchParams }: ReplayPageProps) {
  const actor = await requireActor("propose-policy");
  const all = await replayAll(actor);
  if (all === null) notFound();
  const typed = z
    .string()
    .max(40)
    .catch("")
    .parse((await searchParams).reference);
  const one = typed === "" ? null : await replayReturn(actor, typed);
  return (
    <HouseFrame actor={actor} current="/policies">
      <div className="space-y-8">
        <div className="space-y-2">
          <h1>Past answers, given again</h1>
          <p className="text-lg">{headline(all)}</p>
        </div>
        <form className="flex max-w-xl flex-wrap items-end gap-3">
          <Field id="reference" label="Reference of a return">
            {(wiring) => <TextInput {...wiring} name="reference" defaultValue={typed} />}
          </Field>
          <Button type="submit" weight="second">
            Give it again
          </Button>
        </form>
        {typed === "" ? null : one === null ? (
          <p role="alert">There is no return {typed}.</p>
        ) : (
          <ReplayPart one={one} />
        )}
        <section className="space-y-3">
          <h2>Answers that come out differently under their own version</h2>
          <DataTable
            caption="Answers that come out differently under their own version"
            captionHidden
            columns={columns}
            rows={all.differing}
            rowKey={({ reference }) => reference}
            whenEmpty="None: every answer whose facts are kept comes out as it was given."
          />
        </section>
      </div>
    </HouseFrame>
  );
}

function headline({ answers, withoutFacts, differing }: ReplayOfAll): string {
  const without = withoutFacts === 0 ? "" : ` ${withoutFacts} have no facts kept and cannot be given again.`;
  return `Of ${answers} answers given again under the version of their day, ${differing.length} come out differently.${without}`;
}
