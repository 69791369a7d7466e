/** Kinds of lots a part on the shelf may come from; the first four also go into every new pack. */
export const partKinds = ["cell", "joining", "potting", "board", "lead", "harness", "sensor", "switch"] as const;
export type PartKind = (typeof partKinds)[number];

export const partKindWords: Readonly<Record<PartKind, string>> = {
  cell: "Cells",
  joining: "Links and welding job",
  potting: "Potting compound",
  board: "Monitoring boards",
  lead: "Main leads and plugs",
  harness: "Measuring wires",
  sensor: "Temperature sensors",
  switch: "Power switches",
};

interface WorkOperation {
  readonly label: string;
  /** The kind of part it puts in; null where none is used. */
  readonly part: PartKind | null;
  /** The part takes the place of all that was there of its kind; one cell group leaves the others in. */
  readonly replacesKind: boolean;
  readonly asksFor: readonly ("groups" | "resistance" | "identity" | "firmware")[];
}

/** Work on a returned pack. The operations and what each has to name are common practice, no source. */
export const workOperations = {
  "looked-inside": { label: "Opened and looked inside", part: null, replacesKind: false, asksFor: [] },
  "wire-remade": { label: "Measuring wire made again", part: null, replacesKind: false, asksFor: ["groups"] },
  "harness-exchanged": { label: "Measuring wires exchanged", part: "harness", replacesKind: true, asksFor: [] },
  "joint-remade": {
    label: "Joint made again",
    part: "joining",
    replacesKind: false,
    asksFor: ["groups", "resistance"],
  },
  "group-exchanged": {
    label: "Cell group exchanged",
    part: "cell",
    replacesKind: false,
    asksFor: ["groups", "resistance"],
  },
  "board-exchanged": {
    label: "Monitoring board exchanged",
    part: "board",
    replacesKind: true,
    asksFor: ["identity", "firmware"],
  },
  "firmware-written": { label: "Firmware written", part: null, replacesKind: false, asksFor: ["firmware"] },
  "lead-exchanged": { label: "Main lead or plug exchanged", part: "lead", replacesKind: true, asksFor: [] },
  "sensor-exchanged": { label: "Temperature sensor exchanged", part: "sensor", replacesKind: true, asksFor: [] },
  "switch-exchanged": { label: "Power switch exchanged", part: "switch", replacesKind: true, asksFor: [] },
  "potted-again": { label: "Potted again", part: "potting", replacesKind: false, asksFor: [] },
  "charged-level": { label: "Charged until the groups were level", part: null, replacesKind: false, asksFor: [] },
  other: { label: "Something else", part: null, replacesKind: false, asksFor: [] },
} as const satisfies Readonly<Record<string, WorkOperation>>;

export type OperationName = keyof typeof workOperations;
export const operationNames = Object.keys(workOperations).filter((name): name is OperationName =>
  Object.hasOwn(workOperations, name),
);

export function operationOf(name: OperationName): WorkOperation {
  return workOperations[name];
}

export function readOperation(stored: string): OperationName {
  const name = operationNames.find((known) => known === stored);
  if (name === undefined) throw new RangeError(`operation: ${stored} is unknown`);
  return name;
}

export function readPartKind(stored: string): PartKind {
  const kind = partKinds.find((known) => known === stored);
  if (kind === undefined) throw new RangeError(`kind of lot: ${stored} is unknown`);
  return kind;
}
