import type { Metadata } from "next";
import { notFound } from "next/navigation";
import { CoverAnswer } from "@/app/_components/cover-answer";
import { HouseFrame } from "@/app/_components/house-frame";
import { IncidentBanner } from "@/app/_components/incident-banner";
import { JoinedReturns } from "@/app/_components/joined-returns";
import { MoveList } from "@/app/_components/move-list";
import { HouseContact } from "@/app/_contacts/house-contact";
import { ProofPart } from "@/app/_cover/proof-part";
import { ToldPhotosPart } from "@/app/_photos/told-photos-part";
import { may } from "@/lib/access/may";
import { requireActor } from "@/lib/auth/session";
import { type BenchReturn, readBenchReturn } from "@/lib/data/returns/bench-returns";
import { readSafetyContact } from "@/lib/data/returns/safety-contact";
import { readToldPhotos } from "@/lib/data/returns/told-photos";
import { openIncidentsOfReturn } from "@/lib/data/safety/incidents";
import { readCoverProofs } from "@/lib/data/warranty/cover-proof";
import { type PhotoView, photoViewLabels, toldViews } from "@/lib/receiving/pack-faces";
import { atTheWorks } from "@/lib/returns/custody-track";
import { handlingCaution } from "@/lib/returns/handling-caution";
import { readReturnReference } from "@/lib/returns/return-reference";
import { isJudgedForUse } from "@/lib/returns/what-to-show";
import { BenchColumn, BenchSection } from "./bench-section";
import { BuildPart } from "./build-part";
import { CasePart } from "./case-part";
import { CautionBanner } from "./caution-banner";
import { EarlierReturns } from "./earlier-returns";
import { HistoryCheckLine } from "./history-check";
import { KnownIssues } from "./known-issues";
import { NextStep } from "./next-step";
import { PackPart } from "./pack-part";
import { PartLinks } from "./part-links";
import { ReadingsPart } from "./readings-part";
import { ReplacementPart } from "./replacement-part";
import { ReturnHead } from "./return-head";
import { SuggestionPart } from "./suggestion-part";
import { ToldPart } from "./told-part";
import { TracksPart } from "./tracks-part";
import { WorkLinks } from "./work-links";

interface ReturnPageProps {
  readonly params: Promise<{ readonly reference: string }>;
  /** What came of a photograph just sent. */
  readonly searchParams: Promise<{ readonly said?: string | string[]; readonly of?: string | string[] }>;
}

export async function generateMetadata({ params }: Pick<ReturnPageProps, "params">): Promise<Metadata> {
  const reading = readReturnReference((await params).reference);
  return { title: reading.kind === "reference" ? `Return ${reading.reference}` : "Not found" };
}

export default async function BenchReturnPage({ params, searchParams }: ReturnPageProps) {
  const actor = await requireActor("read-build-record");
  const page = await readBenchReturn(actor, (await params).reference);
  if (page === null) notFound();
  const incidents = await openIncidentsOfReturn(actor, page.reference);
  const photos = await readToldPhotos(actor, page.reference);
  const proofs = await readCoverProofs(actor, page.reference);
  const { said: typed, of } = await searchParams;
  const said = (part: string) => (of === part && typeof typed === "string" ? typed.slice(0, 200) : null);
  const contact = await readSafetyContact(actor, page.reference);
  const caution = cautionFor(page);
  return (
    <HouseFrame actor={actor} current="/bench">
      <div className="space-y-6">
        <ReturnHead page={page} />
        <JoinedReturns under="/bench" into={page.joinedInto} from={page.joinedFrom} />
        {/* Before anything that leads elsewhere: danger is read first. */}
        <IncidentBanner open={incidents} linked={may(actor, "read-incidents")} />
        {caution === null ? null : <CautionBanner caution={caution} dangerSigns={page.dangerSigns} />}
        <PartLinks />
        <WorkLinks reference={page.reference} />
        <div className="grid gap-x-8 gap-y-10 lg:grid-cols-2 xl:grid-cols-[minmax(0,21rem)_minmax(0,1fr)_minmax(0,23rem)]">
          <BenchColumn id="pack" title="Who and what it is">
            <ToldPart page={page} />
            <BenchSection title="Cover">
              <CoverAnswer cover={page.cover} />
              {proofs === null ? null : (
                <ProofPart
                  reference={page.reference}
                  version={page.version}
                  proofs={proofs}
                  under="/bench"
                  said={said("proof")}
                />
              )}
            </BenchSection>
            {photos === null || (photos.photos.length === 0 && !photos.mayAdd) ? null : (
              <BenchSection title="Photographs of the complaint">
                <ToldPhotosPart
                  reference={page.reference}
                  told={photos}
                  under="/bench"
                  isDanger={page.safetyOpen}
                  said={said("told-photos")}
                />
              </BenchSection>
            )}
            <PackPart page={page} />
            <BuildPart page={page} />
            <CasePart page={page} mayRead={may(actor, "test-pack")} />
            <EarlierReturns earlier={page.earlier} />
          </BenchColumn>
          <BenchColumn id="readings" title="What the readings show">
            <ReadingsPart page={page} mayAdd={may(actor, "add-readings")} />
          </BenchColumn>
          <BenchColumn id="next" title="What to do next">
            <SuggestionPart suggestion={page.suggestion} findings={findingsOf(page)} />
            <KnownIssues known={page.check.known} />
            <ReplacementPart replacement={page.check.replacement} />
            <NextStep
              page={page}
              restsOn={restsOn(page, photos?.missing ?? [])}
              isUnseen={
                page.status === "in-review" &&
                !atTheWorks.includes(page.next.custody.place) &&
                (photos?.missing ?? toldViews).length > 0
              }
            />
            <TracksPart actor={actor} page={page} />
            {contact === null ? null : (
              <BenchSection title="The customer, for a safety notice">
                <HouseContact reference={page.reference} view={contact} />
              </BenchSection>
            )}
            <BenchSection title="History">
              <MoveList moves={page.moves} withVersions />
              <HistoryCheckLine check={page.next.history} />
            </BenchSection>
          </BenchColumn>
        </div>
      </div>
    </HouseFrame>
  );
}

/** What a decision without the pack in hand rests on, in words; null once it was tested here. */
function restsOn({ status, readings, earlierReadings }: BenchReturn, missing: readonly PhotoView[]): string | null {
  if (status !== "in-review") return null;
  const log = readings === null ? "no readings" : `the readings ${readings.fileName}`;
  const older = earlierReadings.length === 0 ? "" : ` (${earlierReadings.length} older beside them)`;
  const seen = toldViews.filter((view) => !missing.includes(view)).map((view) => photoViewLabels[view].toLowerCase());
  const photographs = seen.length === 0 ? "no photograph" : `photographs of: ${seen.join("; ")}`;
  return `A decision from here rests on ${log}${older} and ${photographs}.`;
}

/** What was found on the case comes before what the file shows. */
function findingsOf({ caseFinding, readings }: BenchReturn) {
  return [...(caseFinding === null ? [] : [caseFinding]), ...(readings?.findings ?? [])];
}

function cautionFor(page: BenchReturn) {
  const { status, decision, dangerSigns, suggestion, next } = page;
  if (isJudgedForUse({ status, decidedRemedy: decision?.remedy ?? null, flag: next.handledAs })) return null;
  return handlingCaution({
    dangerSigns,
    safetyClasses: findingsOf(page).map(({ safetyClass }) => safetyClass),
    flag: next.handledAs,
    suggestedRemedy: suggestion?.remedy ?? null,
    place: next.custody.place,
  });
}
