import { randomBytes, randomUUID } from "node:crypto";
import { mintActor } from "@/lib/access/actor";
import { openAccountAsSystem } from "@/lib/auth/accounts";
import { authentication } from "@/lib/auth/authentication";
import { asSystem, closeDatabase } from "@/lib/data/database";
import { lookUpPack } from "@/lib/data/packs/packs";
import { makeSerial } from "@/lib/packs/serial";
import { prepareFleet } from "../prepare-fleet";
import { secondsOf } from "../side-by-side";
import { weighFirstPage } from "./first-page";
import { servePages } from "./served-pages";

/** A million packs give about a hundred thousand returns. */
const PACKS = 1_000_000;
const PEOPLE = 50;
const ROUNDS = 20;
/** Fewer than an account may look up in an hour. */
const LOOK_UPS = 100;
const PASSWORD = "eight quiet groups";

/**
 * The pages as they are served: the queue for fifty people at once, the look-up of a serial, and the dealer's first page on a
 * simulated telephone. `npm run -s bench -- serving [PACKS]`, after `npm run build`, on a PostgreSQL server: DATABASE_URL names
 * an empty database that is of no use to anybody, or that of an earlier run (the fleet stays in it).
 */
export async function* rows([packs = String(PACKS)]: readonly string[]): AsyncIterable<object> {
  if (process.env.DATABASE_URL === undefined) throw new Error("DATABASE_URL must name an empty database on a server.");
  const AUTH_SECRET = randomBytes(32).toString("base64url");
  process.env.AUTH_SECRET = AUTH_SECRET;
  await prepareFleet(Number(packs));
  const pages = await servePages({ AUTH_SECRET });
  try {
    process.env.APP_URL = pages.address;
    const returns = await asSystem((tx) => tx.return.count());
    const cookies = await Promise.all(
      Array.from({ length: PEOPLE }, (_, index) => signedIn(`technician-${index}@bench.example`, "technician", null)),
    );
    yield* queueRows(pages.address, cookies, returns);
    yield await lookUpRow(pages.address, Number(packs));
    const dealer = await asSystem((tx) => tx.dealer.findFirstOrThrow({ select: { id: true } }));
    yield await weighFirstPage(pages.address, await signedIn("dealer@bench.example", "dealer", dealer.id));
  } finally {
    await pages.stop();
    await closeDatabase();
  }
}

/** A person of this role, and the cookie of one who is signed in. */
async function signedIn(email: string, role: "technician" | "dealer", dealerId: string | null): Promise<string> {
  const isKnown = (await asSystem((tx) => tx.user.count({ where: { email } }))) > 0;
  if (!isKnown) await openAccountAsSystem({ email, name: email, role, dealerId, password: PASSWORD, isDemo: false });
  const { api } = await authentication();
  const { headers } = await api.signInEmail({ body: { email, password: PASSWORD }, returnHeaders: true });
  return headers
    .getSetCookie()
    .map((cookie) => cookie.split(";")[0])
    .join("; ");
}

/** All people ask at once, again and again: the queue, and in turn the page that reads nothing. */
async function* queueRows(address: string, cookies: readonly string[], returns: number): AsyncIterable<object> {
  const round = (path: string) => Promise.all(cookies.map((cookie) => msOf(`${address}${path}`, cookie)));
  // Whoever is signed in is led on from there.
  const emptyRound = () => Promise.all(cookies.map(() => msOf(`${address}/sign-in`, "")));
  for (const path of ["/bench", "/bench?show=overdue", "/bench?show=ended"]) {
    await round(path);
    const [ours, theirs]: [number[], number[]] = [[], []];
    for (let turn = 0; turn < ROUNDS; turn++) {
      ours.push(...(await round(path)));
      theirs.push(...(await emptyRound()));
    }
    const [p50Ms, p95Ms, emptyP95Ms] = [quantile(ours, 0.5), quantile(ours, 0.95), quantile(theirs, 0.95)];
    const name = `queue ${path}, ${cookies.length} people at once, ${returns} returns`;
    yield {
      name,
      p50Ms,
      p95Ms,
      reachMs: 500,
      against: "the empty page /sign-in",
      emptyP95Ms,
      ratio: p95Ms / emptyP95Ms,
    };
  }
}

async function msOf(url: string, cookie: string): Promise<number> {
  const start = performance.now();
  const answer = await fetch(url, { headers: { cookie }, redirect: "manual" });
  await answer.arrayBuffer();
  if (answer.status !== 200) throw new Error(`${url} answered ${answer.status}`);
  return performance.now() - start;
}

/** What a dealer's form asks of a serial, beside the bare indexed query; an empty page is added to both. */
async function lookUpRow(address: string, packs: number): Promise<object> {
  // Somebody new with each run, who has looked nothing up this hour.
  const dealer = mintActor({ userId: `looker-${randomUUID()}`, name: "L", role: "service-lead", dealerId: null });
  const serials = await giveSerials(packs);
  const [ours, theirs, page]: [number[], number[], number[]] = [[], [], []];
  for (const serial of serials) {
    ours.push(await secondsOf(() => lookUpPack(dealer, serial)));
    theirs.push(await secondsOf(() => asSystem((tx) => tx.pack.findUnique({ where: { serial } }))));
    page.push((await msOf(`${address}/sign-in`, "")) / 1000);
  }
  const [oursS, bareS, pageS] = [quantile(ours, 0.5), quantile(theirs, 0.5), quantile(page, 0.5)];
  return {
    name: `serial look-up, ${packs} packs, median of ${serials.length}`,
    lookUpSeconds: oursS,
    against: "the bare indexed query, each with an empty page",
    bareSeconds: bareS,
    emptyPageSeconds: pageS,
    ratio: (oursS + pageS) / (bareS + pageS),
    reach: (2 * bareS + pageS) / (bareS + pageS),
  };
}

/** Serials with a check character for packs spread over the fleet, whose made ones have none. */
async function giveSerials(packs: number): Promise<string[]> {
  const serials: string[] = [];
  for (let index = 1; index <= LOOK_UPS; index++) {
    const serial = makeSerial({ model: "MA", buildYear: 2024, buildWeek: 1 + (index % 52), sequence: index });
    const made = `MA${String(Math.floor((index * packs) / (LOOK_UPS + 1))).padStart(8, "0")}X`;
    // None where an earlier run gave it.
    await asSystem((tx) => tx.pack.updateMany({ where: { serial: made }, data: { serial } }));
    serials.push(serial);
  }
  return serials;
}

function quantile(values: readonly number[], share: number): number {
  const sorted = values.toSorted((a, b) => a - b);
  return sorted[Math.min(sorted.length - 1, Math.floor(share * sorted.length))] ?? Number.NaN;
}
