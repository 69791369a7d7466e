import type { people } from "./browser";

export type Person = keyof typeof people;

/** What the sample addresses are made of, from the demo that answers. */
export interface Samples {
  /** A return of the first dealer with a readings file. */
  readonly reference: string;
  /** A photograph of it that the bench took for itself. */
  readonly photoId: string;
  readonly incident: string;
  readonly place: string;
  /** The day of the forecast the demo keeps. */
  readonly keptOn: string;
}

/** A page or a file that exists for some and not for others. */
interface Guarded {
  readonly kind: "guarded";
  readonly who: readonly Person[];
  readonly address: (at: Samples) => string;
}

/** Takes something in. Whoever may not is told so by this sentence, whoever may gets another answer to the same rubbish. */
interface TakesIn {
  readonly kind: "takes-in";
  readonly who: readonly Person[];
  readonly address: (at: Samples) => string;
  readonly sends: "bytes" | "photograph" | "named-file";
  readonly refusal: string;
}

/** Answers everybody, also whoever is not signed in. */
interface Open {
  readonly kind: "open";
  readonly address: string;
}

export type RouteRoles = Guarded | TakesIn | Open;

const ownDealer = ["dealer", "dealerAdmin"] as const;
const dealers = [...ownDealer, "otherDealer"] as const;
const service = ["service", "lead"] as const;
const leads = ["lead", "safetyOfficer", "manager"] as const;
const bench = ["service", ...leads] as const;
const testPlanners = ["lead", "manager"] as const;
const cost = ["manager", "finance"] as const;
const everyone = [...dealers, ...bench, "finance", "administrator"] as const;

function at(address: string | ((samples: Samples) => string), who: readonly Person[]): Guarded {
  return { kind: "guarded", who, address: typeof address === "string" ? () => address : address };
}

const ofDealer = (rest: string) => (samples: Samples) => `/dealer/returns/${samples.reference}${rest}`;
const ofBench = (rest: string) => (samples: Samples) => `/bench/${samples.reference}/${rest}`;
const sheet = (name: string) => at(({ reference }) => `/print/${reference}/${name}`, [...ownDealer, ...bench]);
const group = "by=cell-lot&group=CBR-09";

/**
 * Who gets which page and file, by the route's file below `app`; everybody else is answered as if there were none. Written by hand
 * beside the table of acts, which decides it: the two are held against each other in the browser. A route without an entry fails a test.
 */
export const routeRoles: Readonly<Record<string, RouteRoles>> = {
  "page.tsx": { kind: "open", address: "/" },
  "sign-in/page.tsx": { kind: "open", address: "/sign-in" },
  "invitation/[token]/page.tsx": { kind: "open", address: "/invitation/none-such" },

  "(everyone)/danger/page.tsx": at("/danger", everyone),
  "(everyone)/told/page.tsx": at("/told", [...bench, "finance", "administrator"]),
  "(everyone)/columns/page.tsx": at("/columns", [...dealers, ...service]),
  "(everyone)/readings/route.ts": {
    kind: "takes-in",
    who: dealers,
    address: () => "/readings?serial=x&name=y.csv",
    sends: "bytes",
    refusal: "Readings are added by the dealer who lodges the return.",
  },
  "(everyone)/readings/columns/route.ts": {
    kind: "takes-in",
    who: [],
    address: () => "/readings/columns",
    sends: "named-file",
    // Nobody holds the file that is named: whoever sent one is asked there, not which role they have.
    refusal: "This file is no longer held here.",
  },

  "(dealer)/dealer/page.tsx": at("/dealer", dealers),
  "(dealer)/dealer/notices/page.tsx": at("/dealer/notices", dealers),
  "(dealer)/dealer/accounts/page.tsx": at("/dealer/accounts", ["dealerAdmin"]),
  "(dealer)/dealer/statement/page.tsx": at("/dealer/statement", dealers),
  "(dealer)/dealer/statement/export/route.ts": at("/dealer/statement/export", dealers),
  "(dealer)/dealer/returns/new/page.tsx": at("/dealer/returns/new", dealers),
  // One function behind both addresses of the file: a dealer's own returns, or everybody's for those who may take them.
  "(dealer)/dealer/returns/export/route.ts": at("/dealer/returns/export", [...dealers, ...leads]),
  "(service)/bench/export/route.ts": at("/bench/export", [...dealers, ...leads]),
  "(dealer)/dealer/returns/[reference]/page.tsx": at(ofDealer(""), ownDealer),
  "(dealer)/dealer/returns/[reference]/photos/route.ts": photographs(ofDealer("/photos")),
  // Both show one photograph to those who may see it, wherever its address stands.
  "(dealer)/dealer/returns/[reference]/photos/[photoId]/route.ts": at(
    (samples) => ofDealer(`/photos/${samples.photoId}`)(samples),
    bench,
  ),

  "(service)/bench/page.tsx": at("/bench", bench),
  "(service)/bench/new/page.tsx": at("/bench/new", service),
  "(service)/bench/post/page.tsx": at("/bench/post", bench),
  "(service)/bench/[reference]/page.tsx": at(({ reference }) => `/bench/${reference}`, bench),
  "(service)/bench/[reference]/incident/page.tsx": at(ofBench("incident"), bench),
  "(service)/bench/[reference]/receiving/page.tsx": at(ofBench("receiving"), bench),
  "(service)/bench/[reference]/tests/page.tsx": at(ofBench("tests"), bench),
  "(service)/bench/[reference]/work/page.tsx": at(ofBench("work"), bench),
  "(service)/bench/[reference]/transport/page.tsx": at(ofBench("transport"), bench),
  "(service)/bench/[reference]/transport/[leg]/page.tsx": at(ofBench("transport/to-dealer"), bench),
  "(service)/bench/[reference]/remedy/page.tsx": at(ofBench("remedy"), [...bench, "finance"]),
  "(service)/bench/[reference]/file/route.ts": at(ofBench("file"), bench),
  "(service)/bench/[reference]/traces/route.ts": at(ofBench("traces?from=0&to=9&groups="), bench),
  "(service)/bench/[reference]/photos/route.ts": photographs(ofBench("photos")),
  "(service)/bench/[reference]/photos/[photoId]/route.ts": at(
    (samples) => ofBench(`photos/${samples.photoId}`)(samples),
    bench,
  ),
  "(service)/instruments/page.tsx": at("/instruments", bench),
  "(service)/parts/page.tsx": at("/parts", bench),
  "(service)/quarantine/page.tsx": at("/quarantine", bench),
  "(service)/quarantine/[code]/page.tsx": at(({ place }) => `/quarantine/${place}`, bench),
  "(service)/test-plans/page.tsx": at("/test-plans", bench),
  "(service)/test-plans/[scope]/page.tsx": at("/test-plans/GW", testPlanners),
  "(service)/thresholds/page.tsx": at("/thresholds", bench),
  "(service)/thresholds/[model]/page.tsx": at("/thresholds/GW", bench),
  "(service)/thresholds/replay/page.tsx": at("/thresholds/replay", testPlanners),

  "(print)/print/[reference]/label/page.tsx": sheet("label"),
  "(print)/print/[reference]/traveller/page.tsx": sheet("traveller"),
  "(print)/print/[reference]/packing-sheet/page.tsx": sheet("packing-sheet"),
  "(print)/print/[reference]/used-battery-statement/page.tsx": sheet("used-battery-statement"),
  "(print)/print/[reference]/finding-letter/page.tsx": sheet("finding-letter"),
  "(print)/print/[reference]/decision-letter/page.tsx": sheet("decision-letter"),

  "(safety)/incidents/page.tsx": at("/incidents", leads),
  "(safety)/incidents/[reference]/page.tsx": at(({ incident }) => `/incidents/${incident}`, leads),
  "(safety)/holidays/page.tsx": at("/holidays", leads),
  "(safety)/known-issues/page.tsx": at("/known-issues", leads),
  "(safety)/known-issues/packs/page.tsx": at("/known-issues/packs?revision=GW-A", leads),
  "(safety)/transport-rules/page.tsx": at("/transport-rules", leads),
  "(safety)/transport-rules/propose/page.tsx": at("/transport-rules/propose", ["safetyOfficer", "manager"]),

  "(finance)/money/page.tsx": at("/money", ["lead", ...cost]),
  "(finance)/money/export/route.ts": at("/money/export", ["finance"]),
  "(finance)/money/suppliers/page.tsx": at("/money/suppliers", cost),
  "(finance)/money/suppliers/export/route.ts": at("/money/suppliers/export", ["finance"]),
  "(administrator)/accounts/page.tsx": at("/accounts", ["manager", "administrator"]),
  "(administrator)/emergency-look/page.tsx": at("/emergency-look", ["manager", "administrator"]),
  // No look is running: then it is nobody's.
  "(administrator)/emergency-look/[reference]/page.tsx": at(({ reference }) => `/emergency-look/${reference}`, []),
  "(manager)/exports/page.tsx": at("/exports", ["manager", "administrator"]),

  "(manager)/policies/page.tsx": at("/policies", ["manager", "safetyOfficer"]),
  "(manager)/policies/legal-duties/page.tsx": at("/policies/legal-duties", ["manager", "safetyOfficer"]),
  "(manager)/policies/legal-duties/[country]/page.tsx": at("/policies/legal-duties/DE", ["manager", "safetyOfficer"]),
  "(manager)/policies/periods/page.tsx": at("/policies/periods", ["manager", "safetyOfficer"]),
  "(manager)/policies/replay/page.tsx": at("/policies/replay", ["manager"]),
  "(manager)/policies/distributor-sales/page.tsx": at("/policies/distributor-sales", ["manager"]),

  "(manager)/reliability/page.tsx": at("/reliability", ["manager"]),
  "(manager)/reliability/export/route.ts": at("/reliability/export", ["manager"]),
  "(manager)/reliability/[revision]/page.tsx": at("/reliability/GW-C", ["manager"]),
  "(manager)/reliability/group/page.tsx": at(`/reliability/group?${group}`, ["manager"]),
  "(manager)/reliability/group/export/route.ts": at(`/reliability/group/export?${group}`, ["manager"]),
  "(manager)/reliability/signals/page.tsx": at("/reliability/signals", ["manager"]),
  "(manager)/reliability/signals/export/route.ts": at("/reliability/signals/export", ["manager"]),
  "(manager)/reliability/months/page.tsx": at("/reliability/months?by=revision&group=none", ["manager"]),
  "(manager)/reliability/months/export/route.ts": at("/reliability/months/export?by=revision&group=GW-C", ["manager"]),
  "(manager)/reliability/months/packs/page.tsx": at(`/reliability/months/packs?${group}&soldIn=2026-01`, ["manager"]),
  "(manager)/reliability/months/packs/export/route.ts": at(`/reliability/months/packs/export?${group}&soldIn=2026-01`, [
    "manager",
  ]),
  "(manager)/reliability/packs/page.tsx": at(`/reliability/packs?${group}&list=failures`, ["manager"]),
  "(manager)/reliability/packs/export/route.ts": at(`/reliability/packs/export?${group}&list=failures`, ["manager"]),
  "(manager)/reliability/affected/page.tsx": at("/reliability/affected?by=revision&group=GW-C", leads),
  "(manager)/reliability/affected/export/route.ts": at("/reliability/affected/export?by=revision&group=GW-C", leads),
  "(manager)/reliability/affected/sets/page.tsx": at("/reliability/affected/sets", leads),
  "(manager)/reliability/forecast/page.tsx": at("/reliability/forecast", cost),
  "(manager)/reliability/forecast/export/route.ts": at("/reliability/forecast/export", cost),
  "(manager)/reliability/reserve/page.tsx": at("/reliability/reserve", cost),
  "(manager)/reliability/reserve/export/route.ts": at("/reliability/reserve/export", cost),
  "(manager)/reliability/costs/page.tsx": at("/reliability/costs", cost),
  "(manager)/reliability/kept/page.tsx": at("/reliability/kept", cost),
  "(manager)/reliability/kept/[dataDate]/page.tsx": at(({ keptOn }) => `/reliability/kept/${keptOn}`, cost),
  "(manager)/reliability/kept/[dataDate]/export/route.ts": at(
    ({ keptOn }) => `/reliability/kept/${keptOn}/export`,
    cost,
  ),
};

/** A proof of sale is the dealer's own to send, and the bench's for anybody. */
function photographs(address: TakesIn["address"]): TakesIn {
  return {
    kind: "takes-in",
    who: [...ownDealer, ...service],
    address,
    sends: "photograph",
    refusal: "There is no such return for you.",
  };
}
