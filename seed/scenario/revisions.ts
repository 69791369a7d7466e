import type { ScenarioChange, ScenarioCompatibility, ScenarioRevision } from "./scenario";
import { stableId } from "./stable-id";
import type { StoryCalendar } from "./story-calendar";

/** How many packs a revision got and when: equal numbers a working day between two dates, for each stretch. */
export interface ProductionStretch {
  readonly from: string;
  readonly to: string;
  /** For a scenario of 6,000 packs. */
  readonly packs: number;
}

export interface RevisionPlan {
  readonly code: string;
  readonly introducedOn: string;
  readonly supersededOn: string | null;
  readonly changes: readonly ScenarioChange[];
  readonly potted: boolean;
  readonly cellsRepairable: boolean;
  readonly boardHardware: string;
  readonly firmware: string;
  readonly stretches: readonly ProductionStretch[];
}

const change = (what: string, why: string): ScenarioChange => ({ what, why });

export const revisionPlans: readonly RevisionPlan[] = [
  {
    code: "BR-A",
    introducedOn: "2023-09-18",
    supersededOn: "2024-06-17",
    changes: [change("First build", "Start of the model.")],
    potted: false,
    cellsRepairable: true,
    boardHardware: "MB3",
    firmware: "1.4.0",
    stretches: [{ from: "2023-09-18", to: "2024-06-14", packs: 680 }],
  },
  {
    code: "BR-B",
    introducedOn: "2024-06-17",
    supersededOn: "2025-05-12",
    changes: [
      change("Joining: laser instead of resistance welding", "Pull tests scattered too much."),
      change("Temperature sensor leads", "Two leads chafed on the case edge."),
    ],
    potted: false,
    cellsRepairable: true,
    boardHardware: "MB3",
    firmware: "1.6.2",
    stretches: [{ from: "2024-06-17", to: "2025-05-09", packs: 800 }],
  },
  {
    code: "BR-C",
    introducedOn: "2025-05-12",
    supersededOn: null,
    changes: [
      change("Potting of the cell block", "Water reached the lowest groups of packs carried on open racks."),
      change("Monitoring board MB4", "The old voltage chip went out of production."),
    ],
    potted: true,
    cellsRepairable: false,
    boardHardware: "MB4",
    firmware: "2.1.0",
    stretches: [{ from: "2025-05-12", to: "2026-11-13", packs: 880 }],
  },
  {
    code: "GW-A",
    introducedOn: "2023-10-09",
    supersededOn: "2024-09-02",
    changes: [change("First build", "Start of the model.")],
    potted: false,
    cellsRepairable: true,
    boardHardware: "MB3",
    firmware: "1.5.1",
    stretches: [{ from: "2023-10-09", to: "2024-08-30", packs: 600 }],
  },
  {
    code: "GW-B",
    introducedOn: "2024-09-02",
    supersededOn: "2026-01-12",
    changes: [
      change("Cell supplier S2", "Second source, matched within 6 mV."),
      change("Firmware 1.7.0", "Balancing stopped too early at the end of the charge."),
    ],
    potted: true,
    cellsRepairable: false,
    boardHardware: "MB3",
    firmware: "1.7.0",
    stretches: [{ from: "2024-09-02", to: "2026-01-09", packs: 980 }],
  },
  {
    code: "GW-C",
    introducedOn: "2026-01-12",
    supersededOn: null,
    changes: [
      change("Sense leads: press-fit connector instead of soldered leads", "Saves nine minutes a pack."),
      change("Joining: new weld schedule", "Shorter cycle for the doubled line."),
      change("Monitoring board MB4", "The old voltage chip went out of production."),
    ],
    potted: true,
    cellsRepairable: false,
    boardHardware: "MB4",
    firmware: "2.1.0",
    // Sold out at once in spring; since August the doubled line builds stock for the next season.
    stretches: [
      { from: "2026-01-12", to: "2026-04-10", packs: 520 },
      { from: "2026-04-13", to: "2026-07-31", packs: 90 },
      { from: "2026-08-03", to: "2026-11-13", packs: 980 },
    ],
  },
  {
    code: "TF-A",
    introducedOn: "2024-02-12",
    supersededOn: "2025-08-18",
    changes: [change("First build", "Start of the model.")],
    potted: false,
    cellsRepairable: true,
    boardHardware: "MB3",
    firmware: "1.6.0",
    stretches: [{ from: "2024-02-12", to: "2025-08-15", packs: 340 }],
  },
  {
    code: "TF-B",
    introducedOn: "2025-08-18",
    supersededOn: null,
    changes: [
      change("Main lead lug, crimp instead of screw", "Screws worked loose on washboard roads."),
      change("Firmware 2.0.3", "The charge counter drifted on the flat part of the curve."),
    ],
    potted: false,
    cellsRepairable: true,
    boardHardware: "MB4",
    firmware: "2.0.3",
    stretches: [{ from: "2025-08-18", to: "2026-07-31", packs: 200 }],
  },
];

export function buildRevisions(at: StoryCalendar): ScenarioRevision[] {
  const orders = new Map<string, number>();
  return revisionPlans.map((plan) => {
    const modelCode = plan.code.slice(0, 2);
    const order = (orders.get(modelCode) ?? 0) + 1;
    orders.set(modelCode, order);
    const { code, changes, potted, cellsRepairable, boardHardware, firmware } = plan;
    return {
      id: stableId("revision", code, `${at(plan.introducedOn)}T08:00:00Z`),
      code,
      modelCode,
      order,
      introducedOn: at(plan.introducedOn),
      supersededOn: plan.supersededOn === null ? null : at(plan.supersededOn),
      changes,
      potted,
      cellsRepairable,
      boardHardware,
      firmware,
      testSummaryReference: `TS-${code}-${String(order).padStart(2, "0")}`,
    };
  });
}

/** Every revision may be replaced by itself and by every later one of its model. */
export function buildCompatibilities(revisions: readonly ScenarioRevision[]): ScenarioCompatibility[] {
  return revisions.flatMap((old) =>
    revisions
      .filter((candidate) => candidate.modelCode === old.modelCode && candidate.order >= old.order)
      .map((candidate) => ({
        oldRevisionCode: old.code,
        newRevisionCode: candidate.code,
        note: compatibilityNote(old, candidate),
      })),
  );
}

function compatibilityNote(old: ScenarioRevision, candidate: ScenarioRevision): string {
  if (old.code === candidate.code) {
    return "Same build.";
  }
  return old.boardHardware === candidate.boardHardware
    ? "Fits as it is."
    : `Fits; the vehicle must know board ${candidate.boardHardware}: check its software before handing over.`;
}
