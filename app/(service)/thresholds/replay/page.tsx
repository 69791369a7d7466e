import type { Metadata } from "next";
import Link from "next/link";
import { notFound } from "next/navigation";
import { z } from "zod";
import { Button } from "@/app/_components/button";
import { Field, TextInput } from "@/app/_components/field";
import { HouseFrame } from "@/app/_components/house-frame";
import { requireActor } from "@/lib/auth/session";
import { replayThresholds } from "@/lib/data/readings/threshold-replay";
import { linkClass } from "../link-class";
import { JudgedCards } from "./judged-cards";

export const metadata: Metadata = { title: "Past readings judged anew" };

interface ReplayPageProps {
  readonly searchParams: Promise<Readonly<Record<string, string | string[] | undefined>>>;
}

export default async function ThresholdReplayPage({ searchParams }: ReplayPageProps) {
  const actor = await requireActor("propose-thresholds");
  const typed = z
    .string()
    .max(40)
    .catch("")
    .parse((await searchParams).reference);
  const replay = typed === "" ? null : await replayThresholds(actor, typed);
  if (typed !== "" && replay === null) notFound();
  return (
    <HouseFrame actor={actor} current="/bench">
      <div className="max-w-4xl space-y-8">
        <div className="space-y-2">
          <h1>Past readings, judged anew</h1>
          <p>
            The original file is judged by the rules of today under the thresholds kept with its suggestion, under those
            in force, and under an open proposal. Nothing is stored: what was suggested stays. Cover, complaint and
            danger signs are left out every time, so only the readings and the pack speak.
          </p>
          <Link href="/thresholds" className={linkClass}>
            Thresholds by model
          </Link>
        </div>
        <form className="flex max-w-xl flex-wrap items-end gap-3">
          <Field id="reference" label="Reference of a return with readings">
            {(wiring) => <TextInput {...wiring} name="reference" defaultValue={typed} />}
          </Field>
          <Button type="submit" weight="second">
            Judge anew
          </Button>
        </form>
        {replay === null ? null : replay.kind === "not-replayed" ? (
          <p role="alert">{replay.sentence}</p>
        ) : (
          <JudgedCards replay={replay} />
        )}
      </div>
    </HouseFrame>
  );
}
