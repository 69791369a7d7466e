import type { Metadata } from "next";
import { notFound } from "next/navigation";
import { AwaitedPart } from "@/app/_comes-back/awaited-part";
import { CoverAnswer } from "@/app/_components/cover-answer";
import { DealerFrame } from "@/app/_components/dealer-frame";
import { FactList } from "@/app/_components/fact-list";
import { IncidentBanner } from "@/app/_components/incident-banner";
import { JoinedReturns } from "@/app/_components/joined-returns";
import { LocalTime } from "@/app/_components/local-time";
import { MoveList } from "@/app/_components/move-list";
import { SerialText } from "@/app/_components/serial-text";
import { Stamp, StatusLine } from "@/app/_components/status-line";
import { OwnContact } from "@/app/_contacts/own-contact";
import { ProofPart } from "@/app/_cover/proof-part";
import { HandlingCard } from "@/app/_handling/handling-card";
import { LeavePart } from "@/app/_old-pack/leave-part";
import { ToldPhotosPart } from "@/app/_photos/told-photos-part";
import { requireActor } from "@/lib/auth/session";
import { readComesBackPage } from "@/lib/data/remedies/comes-back";
import { readOldPack } from "@/lib/data/remedies/old-pack";
import { readRemedyView } from "@/lib/data/remedies/remedy-view";
import { readDealerReturn } from "@/lib/data/returns/returns";
import { readSafetyContact } from "@/lib/data/returns/safety-contact";
import { readToldPhotos } from "@/lib/data/returns/told-photos";
import { openIncidentsOfReturn } from "@/lib/data/safety/incidents";
import { readPackingOf } from "@/lib/data/transport/packing-check";
import { readTransport } from "@/lib/data/transport/transport";
import { readDealerScripts } from "@/lib/data/transport/transport-rules";
import { readCoverProofs } from "@/lib/data/warranty/cover-proof";
import { coverAtAGlance, safetyAtAGlance } from "@/lib/returns/at-a-glance";
import { atTheDealers, isWithTheMaker } from "@/lib/returns/custody-track";
import { dangerTold } from "@/lib/returns/danger-signs";
import { readReturnReference } from "@/lib/returns/return-reference";
import { mayStillBeSent, returnStatusWords } from "@/lib/returns/return-status";
import { dangerNow } from "@/lib/returns/safety-track";
import { isJudgedForUse } from "@/lib/returns/what-to-show";
import { DecisionCard } from "./decision-card";
import { PackFactList } from "./pack-fact-list";
import { ReadingsPart } from "./readings-part";
import { RemedyPart } from "./remedy-part";
import { ReturnSection } from "./return-section";
import { SendingPart } from "./sending-part";
import { ToldFactList } from "./told-fact-list";
import { UnitBackPart } from "./unit-back-part";
import { YourSteps } from "./your-steps";

interface ReturnPageProps {
  readonly params: Promise<{ readonly reference: string }>;
  readonly searchParams: Promise<Record<string, string | string[] | undefined>>;
}

export async function generateMetadata({ params }: ReturnPageProps): Promise<Metadata> {
  const reading = readReturnReference((await params).reference);
  return { title: reading.kind === "reference" ? `Return ${reading.reference}` : "Not found" };
}

export default async function DealerReturn({ params, searchParams }: ReturnPageProps) {
  const actor = await requireActor("read-own-returns");
  const reading = readReturnReference((await params).reference);
  if (reading.kind !== "reference") notFound();
  const page = await readDealerReturn(actor, reading.reference);
  if (page === null) notFound();
  const incidents = await openIncidentsOfReturn(actor, page.reference);
  const transport = await readTransport(actor, page.reference);
  // Once it left, the photographs stand as they are.
  const old = await readOldPack(actor, page.reference);
  const comesBack = await readComesBackPage(actor, page.reference);
  const isToBePacked = page.status === "return-approved" || old?.ordered?.order === "send-in";
  const packing = isToBePacked ? await readPackingOf(actor, page.reference) : null;
  const asked = await searchParams;
  const said = (part: string) => saidOf(part, asked);
  const photos = await readToldPhotos(actor, page.reference);
  const proofs = await readCoverProofs(actor, page.reference);
  const contact = await readSafetyContact(actor, page.reference);
  const remedy = await readRemedyView(actor, page.reference);
  const scripts = await readDealerScripts(actor);
  const flag = page.steps.handledAs;
  const told = dangerTold(page.dangerSigns);
  const danger = dangerNow(told.kind, flag);
  const isDanger = danger !== "none";
  const isJudged = isJudgedForUse({ status: page.status, decidedRemedy: page.decision?.remedy ?? null, flag });
  const { place } = page.steps.custody;
  // What to do with a pack that lies with the maker is nothing for the dealer; a danger is told wherever it lies.
  const isOutOfHand = !isDanger && isWithTheMaker(place);
  const handling = isJudged || isOutOfHand ? null : <HandlingCard script={scripts[danger]} isDanger={isDanger} />;
  const isHereUndecided = atTheDealers.includes(place) && page.decision === null;
  const safe = safetyAtAGlance({ danger, isJudged, decidedRemedy: page.decision?.remedy ?? null, place });
  const covered = coverAtAGlance(page.cover);
  return (
    <DealerFrame actor={actor}>
      <div className="space-y-8">
        <div className="space-y-3">
          <h1>
            <span className="caption-print block">Return</span>
            <SerialText large>{page.reference}</SerialText>
          </h1>
          <StatusLine
            status={returnStatusWords(page.status, page.decision?.remedy ?? null)}
            tone={page.status === "decided" ? "good" : "plain"}
            turn={page.turn}
            next={page.next}
          />
          {page.steps.dueAt === null ? null : (
            <p className={page.steps.isOverdue ? "font-semibold text-warn" : "text-soft"}>
              {page.steps.isOverdue ? "Overdue since " : "Due "}
              <LocalTime at={page.steps.dueAt} />
            </p>
          )}
          <FactList
            facts={[
              { term: "Is the pack safe?", detail: <Stamp tone={safe.tone}>{safe.words}</Stamp> },
              {
                term: "Does the maker's guarantee cover it?",
                detail: <Stamp tone={covered.tone}>{covered.words}</Stamp>,
              },
            ]}
          />
          <p className="text-soft">
            Sent in on <LocalTime at={page.lodgedAt} />.
            {isHereUndecided ? " Write the reference on the pack or beside it." : ""}
          </p>
        </div>
        <JoinedReturns under="/dealer/returns" into={page.joinedInto} from={page.joinedFrom} />
        <IncidentBanner open={incidents} linked={false} />
        {/* Before anybody packs it, reads on or fills in a form beside a pack that shows danger: what to do with it. */}
        {isDanger ? handling : null}
        {transport === null ||
        (transport.declaration === null && !mayStillBeSent.some((status) => status === page.status)) ? null : (
          <SendingPart
            transport={transport}
            packing={packing}
            said={said("packing")}
            title={old?.ordered?.order === "send-in" ? "Sending the old pack" : "Sending the pack"}
          />
        )}
        {page.decision === null ? null : <DecisionCard decision={page.decision} time={remedy?.timeToObject ?? null} />}
        <ReturnSection title="What you can do">
          <YourSteps page={page} />
        </ReturnSection>
        {isDanger ? null : handling}
        {photos === null || (photos.photos.length === 0 && !photos.mayAdd) ? null : (
          <ReturnSection title="Photographs of the complaint">
            <ToldPhotosPart
              reference={page.reference}
              told={photos}
              under="/dealer/returns"
              isDanger={isDanger}
              said={photos.mayAdd ? said("told-photos") : null}
            />
          </ReturnSection>
        )}
        {comesBack === null ? null : (
          <ReturnSection title="What the customer gives back">
            <AwaitedPart page={comesBack} />
          </ReturnSection>
        )}
        {old === null ? null : (
          <ReturnSection title="The old pack">
            <LeavePart reference={page.reference} old={old} />
          </ReturnSection>
        )}
        <UnitBackPart actor={actor} reference={page.reference} said={said("packing-unit")} />
        {remedy === null ? null : (
          <ReturnSection title="What the customer gets">
            <RemedyPart remedy={remedy} />
          </ReturnSection>
        )}
        <ReturnSection title="Cover">
          <CoverAnswer cover={page.cover} />
          {proofs === null ? null : (
            <ProofPart
              reference={page.reference}
              version={page.version}
              proofs={proofs}
              under="/dealer/returns"
              said={said("proof")}
            />
          )}
        </ReturnSection>
        {contact === null ? null : (
          <ReturnSection title="The customer, for a safety notice">
            <OwnContact reference={page.reference} view={contact} />
          </ReturnSection>
        )}
        <ReturnSection title="Readings">
          <ReadingsPart page={page} isDanger={isDanger} />
        </ReturnSection>
        <ReturnSection title="The pack">
          <PackFactList pack={page.pack} />
        </ReturnSection>
        <ReturnSection title="What you told us">
          <ToldFactList told={page} />
        </ReturnSection>
        <ReturnSection title="What has happened">
          <MoveList moves={page.moves} />
        </ReturnSection>
      </div>
    </DealerFrame>
  );
}

/** The answer to a photograph just sent for a part of the page, carried in the address; shown as text and never as markup. */
function saidOf(part: string, { said, of }: Record<string, string | string[] | undefined>): string | null {
  return of === part && typeof said === "string" ? said.slice(0, 300) : null;
}
