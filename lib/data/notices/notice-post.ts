import "server-only";
import { createTransport, type Transporter } from "nodemailer";
import type { Actor } from "@/lib/access/actor";
import { may } from "@/lib/access/may";
import { composeNotice } from "@/lib/notices/compose-notice";
import { noticeLanguageOf, noticeLanguages } from "@/lib/notices/notice-kinds";
import { afterFailure, leaseUntil } from "@/lib/notices/send-again";
import { civilDateAt } from "@/lib/warranty/place-of-sale";
import { fromOptionalDateColumn } from "../calendar-columns";
import { asSystem, closeDatabase, type Transaction } from "../database";
import { readEnvironment } from "../env";
import { readToldSignals } from "../reliability/told-signals";
import { readAddressees } from "./notice-audience";
import { noticePath, readNoticeKind } from "./notices";

export interface PostRound {
  readonly sent: number;
  readonly failed: number;
  readonly givenUp: number;
}

/** Letters taken at once; the next round takes the rest. */
const LETTERS_A_ROUND = 50;
/** A mail server that does not answer must not hold the round up. */
const SMTP_TIMEOUT_MS = 20_000;

/**
 * One round of the post: makes out letters for new notices, then sends what is due, one after the other. Sending lies
 * outside every transaction; a letter is claimed before and marked after, so it is sent at least once, and its message
 * id stays the same. The clock is read anew for each letter, because a slow server makes a round long. Without a mail server nothing is made out and the notices stand on the pages alone. As the system,
 * because letters go to every dealer's people.
 */
export async function emptyOutbox(readClock: () => Date = () => new Date()): Promise<PostRound> {
  const { smtpUrl, mailFrom } = readEnvironment();
  if (smtpUrl === null || mailFrom === null) return { sent: 0, failed: 0, givenUp: 0 };
  const transport = createTransport(withTimeouts(smtpUrl));
  const round = { sent: 0, failed: 0, givenUp: 0 };
  try {
    await asSystem((tx) => makeOutLetters(tx, readClock()));
    for (const letter of await asSystem((tx) => findDueLetters(tx, readClock()))) {
      const outcome = await sendOne(transport, mailFrom, letter, readClock);
      if (outcome !== "taken-elsewhere") round[outcome] += 1;
    }
  } finally {
    transport.close();
  }
  return round;
}

/** The mailer reads its settings from the address where one is given, and from nowhere else. */
function withTimeouts(smtpUrl: string): string {
  const url = new URL(smtpUrl);
  for (const name of ["connectionTimeout", "greetingTimeout", "socketTimeout"])
    url.searchParams.set(name, String(SMTP_TIMEOUT_MS));
  return url.href;
}

async function makeOutLetters(tx: Transaction, now: Date): Promise<void> {
  const notices = await tx.notice.findMany({
    where: { addressedAt: null },
    select: { id: true, dealerId: true, audienceRole: true, dealer: { select: { country: true } } },
    orderBy: { queuedAt: "asc" },
    take: LETTERS_A_ROUND,
  });
  for (const { id, dealerId, audienceRole, dealer } of notices) {
    const people = await readAddressees(tx, { dealerId, audienceRole }, now);
    await tx.noticeLetter.createMany({
      data: people.map(({ id: userId, email, noticeLanguage }) => ({
        noticeId: id,
        userId,
        address: email,
        language: noticeLanguageOf(noticeLanguage, dealer?.country ?? null),
        nextAttemptAt: now,
      })),
      skipDuplicates: true,
    });
    await tx.notice.update({ where: { id }, data: { addressedAt: now } });
  }
}

function findDueLetters(tx: Transaction, now: Date) {
  return tx.noticeLetter.findMany({
    where: { state: "waiting", nextAttemptAt: { lte: now } },
    select: {
      id: true,
      address: true,
      language: true,
      attempts: true,
      notice: { select: { kind: true, reference: true, until: true, dealerId: true } },
    },
    orderBy: { nextAttemptAt: "asc" },
    take: LETTERS_A_ROUND,
  });
}

type DueLetter = Awaited<ReturnType<typeof findDueLetters>>[number];

async function sendOne(
  transport: Transporter,
  mailFrom: string,
  letter: DueLetter,
  readClock: () => Date,
): Promise<"sent" | "failed" | "givenUp" | "taken-elsewhere"> {
  const { id } = letter;
  const attempts = letter.attempts + 1;
  // The count of attempts in the WHERE: of two rounds at once, one takes the letter.
  const claimed = await asSystem((tx) =>
    tx.noticeLetter.updateMany({
      where: { id, state: "waiting", attempts: letter.attempts },
      data: { attempts, nextAttemptAt: leaseUntil(readClock()) },
    }),
  );
  if (claimed.count !== 1) return "taken-elsewhere";
  const { appUrl } = readEnvironment();
  try {
    const composed = await compose(letter);
    await transport.sendMail({
      ...composed,
      from: mailFrom,
      to: letter.address,
      messageId: `<${id}@${new URL(appUrl).hostname}>`,
      headers: { "Auto-Submitted": "auto-generated" },
    });
  } catch (error) {
    const after = afterFailure(attempts, readClock());
    const lastProblem = (error instanceof Error ? error.message : "The mail server did not take it.").slice(0, 500);
    await asSystem((tx) => tx.noticeLetter.update({ where: { id }, data: { ...after, lastProblem } }));
    return after.state === "dead" ? "givenUp" : "failed";
  }
  await asSystem((tx) =>
    tx.noticeLetter.update({ where: { id }, data: { state: "sent", sentAt: readClock(), lastProblem: null } }),
  );
  return "sent";
}

async function compose({ language: wanted, notice }: DueLetter) {
  const { appUrl } = readEnvironment();
  const kind = readNoticeKind(notice.kind);
  const language = noticeLanguages.find((known) => known === wanted) ?? "en";
  const until = fromOptionalDateColumn(notice.until);
  const ofSignals =
    kind === "early-signal" ? await asSystem((tx) => readToldSignals(tx, notice.reference, until)) : { until };
  return composeNotice(kind, language, {
    reference: notice.reference,
    link: `${appUrl}${noticePath(kind, notice.reference, notice.dealerId !== null)}`,
    ...ofSignals,
  });
}

/**
 * Sends the link of an invitation at once and keeps nothing of it: the outbox would keep the link, and whoever reads the
 * database could open the account. False where no mail is set up or the server did not take it.
 */
export async function sendInvitation(address: string, link: string, until: Date): Promise<boolean> {
  const { smtpUrl, mailFrom } = readEnvironment();
  if (smtpUrl === null || mailFrom === null) return false;
  const transport = createTransport(withTimeouts(smtpUrl));
  try {
    const words = { reference: address, link, until: civilDateAt(until, "UTC") };
    await transport.sendMail({
      ...composeNotice("invitation", "en", words),
      from: mailFrom,
      to: address,
      headers: { "Auto-Submitted": "auto-generated" },
    });
    return true;
  } catch {
    return false;
  } finally {
    transport.close();
  }
}

/** Tries a letter that was given up once more, from the first attempt on. As the system, because nobody else may write letters. */
export async function tryLetterAgain(actor: Actor, letterId: string, now = new Date()): Promise<boolean> {
  if (!may(actor, "read-queue")) return false;
  const { count } = await asSystem((tx) =>
    tx.noticeLetter.updateMany({
      where: { id: letterId, state: "dead" },
      data: { state: "waiting", attempts: 0, nextAttemptAt: now },
    }),
  );
  return count === 1;
}

/** Gives the database back; for a command that empties the outbox once and ends. */
export function closePost(): Promise<void> {
  return closeDatabase();
}
