import "server-only";
import type { Actor } from "@/lib/access/actor";
import { groupSerial, readSerial } from "@/lib/packs/serial";
import { serialSentence } from "@/lib/packs/serial-sentence";
import { isOpenStatus, returnStatusWords } from "@/lib/returns/return-status";
import { civilDateAt } from "@/lib/warranty/place-of-sale";
import { countAttempt } from "../accounts/attempt-limits";
import { asSystem, narrowTo, type Transaction } from "../database";
import { answerCover, type CoverView, coverView } from "../warranty/cover";
import { readLegalDuties } from "../warranty/legal-duties-held";
import { concerning, openOn } from "./issue-bounds";
import { type PackFacts, type RevisionChange, readPackFacts } from "./pack-facts";
import { revisionInWords, shownSerial } from "./pack-words";

export interface PackCard {
  readonly serial: string;
  readonly serialShown: string;
  readonly modelName: string;
  readonly revisionCode: string;
  readonly revisionInWords: string;
  readonly changes: readonly RevisionChange[];
  readonly builtOn: string;
  /** The same of the first pack of its chain: its sale is the one that counts. */
  readonly rootBuiltOn: string;
  readonly saleKnown: boolean;
  readonly cameAsReplacement: boolean;
  /** Day on which another pack was handed over in its place; null where it was never replaced. */
  readonly replacedOn: string | null;
  /** Today at the workshop that asks. */
  readonly today: string;
  readonly cover: CoverView;
  /** What the maker asks to be done with packs like this one, whatever the complaint. */
  readonly openActions: readonly { readonly title: string; readonly action: string }[];
  readonly earlierReturns: readonly {
    readonly reference: string;
    readonly lodgedOn: string;
    readonly statusInWords: string;
  }[];
  /** A return of this pack that is not decided; without its reference where another dealer lodged it. */
  readonly openReturn: { readonly reference: string | null } | null;
}

export type PackLookUp =
  | { readonly kind: "found"; readonly pack: PackCard }
  | {
      readonly kind: "not-a-serial";
      readonly sentence: string;
      readonly likely: readonly { readonly serial: string; readonly shown: string }[];
    }
  | { readonly kind: "unknown-serial"; readonly sentence: string }
  | { readonly kind: "too-many-look-ups"; readonly sentence: string };

export const unknownSerial =
  "No pack with this serial is known. The check character is right, so compare it with the label once more; if it still differs, ask the maker's service desk.";

/** What a dealer learns from a serial: enough to serve the customer, nothing of any other dealer. */
export async function lookUpPack(actor: Actor, typed: string): Promise<PackLookUp> {
  const reading = readSerial(typed);
  if (reading.kind !== "serial") {
    const likely = reading.kind === "check-failed" ? reading.likely : [];
    return {
      kind: "not-a-serial",
      sentence: serialSentence(reading),
      likely: likely.map((serial) => ({ serial, shown: groupSerial(serial) })),
    };
  }
  const attempt = await countAttempt("serial-look-up", actor.userId);
  if (attempt.kind === "refused") {
    return { kind: "too-many-look-ups", sentence: `Too many look-ups. Try again in ${attempt.waitMinutes} minutes.` };
  }
  const { serial } = reading;
  // As the system: the sale may be another dealer's, and an open return may be too. Neither dealer is named below.
  const known = await asSystem(async (tx) => {
    const pack = await readPackFacts(tx, serial);
    if (pack === null) return null;
    const workshop = await workshopOf(tx, actor);
    const today = civilDateAt(new Date(), workshop.timeZone);
    const cover = await answerCover(tx, pack, { toldOn: today, today, stated: null });
    const duties = await readLegalDuties(tx);
    const openActions = await tx.knownIssue.findMany({
      where: { AND: [openOn(today), concerning({ packId: pack.packId, revisionId: pack.revision.id })] },
      select: { title: true, action: true },
      orderBy: { openedOn: "desc" },
    });
    // The rest is read as the person, who sees no other dealer's returns.
    await narrowTo(tx, actor);
    const own = await tx.return.findMany({
      where: { packId: pack.packId, ...(actor.dealerId === null ? {} : { dealerId: actor.dealerId }) },
      select: { reference: true, lodgedAt: true, status: true },
      orderBy: { lodgedAt: "desc" },
    });
    return {
      pack,
      today,
      country: workshop.country,
      duties,
      cover,
      hasOpenReturn: pack.hasOpenReturn,
      openActions,
      own,
    };
  });
  if (known === null) return { kind: "unknown-serial", sentence: unknownSerial };
  const { own } = known;
  const ownOpen = own.find(({ status }) => isOpenStatus(status));
  return {
    kind: "found",
    pack: {
      ...describePack(known.pack),
      today: known.today,
      cover: coverView(known.cover, { dealerCountry: known.country, duties: known.duties }),
      openActions: known.openActions,
      earlierReturns: own.map(({ reference, lodgedAt, status }) => ({
        reference,
        lodgedOn: lodgedAt.toISOString().slice(0, 10),
        statusInWords: returnStatusWords(status),
      })),
      openReturn: known.hasOpenReturn ? { reference: ownOpen?.reference ?? null } : null,
    },
  };
}

function describePack(pack: PackFacts) {
  const { serial, model, revision, builtOn, rootBuiltOn, saleKnown, replacedOn, replacements } = pack;
  return {
    serial,
    serialShown: shownSerial(serial),
    modelName: model.name,
    revisionCode: revision.code,
    revisionInWords: revisionInWords(revision.code, revision.introducedOn, revision.changes),
    changes: revision.changes,
    builtOn,
    rootBuiltOn,
    saleKnown,
    cameAsReplacement: replacements.length > 0,
    replacedOn,
  };
}

/** The signed-in person's workshop; the maker's own people have none: they work in UTC, and the law of no country is named. */
async function workshopOf(tx: Transaction, actor: Actor): Promise<{ timeZone: string; country: string }> {
  if (actor.dealerId === null) return { timeZone: "UTC", country: "" };
  return tx.dealer.findUniqueOrThrow({ where: { id: actor.dealerId }, select: { timeZone: true, country: true } });
}

/** Zone of a dealer's workshop. */
export async function zoneOfDealer(tx: Transaction, dealerId: string): Promise<string> {
  const dealer = await tx.dealer.findUniqueOrThrow({ where: { id: dealerId }, select: { timeZone: true } });
  return dealer.timeZone;
}
