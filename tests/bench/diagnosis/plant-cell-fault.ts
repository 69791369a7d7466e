import { flicker, type PlantedFault, type PlantRequest, sized } from "./planted-fault";

export function plantWeakCell({ severity, group, script }: PlantRequest): PlantedFault {
  const factor = 1 - sized(severity, 0.06, 0.45);
  return {
    fault: "weak-cell",
    groups: [group],
    severity,
    kind: "capacity",
    size: factor,
    unit: "of its capacity",
    alsoTrue: ["high-resistance-cell", "high-resistance-joint"],
    mischief: {
      start(run) {
        const k = group - 1;
        run.pack.capacityAh[k] = (run.pack.capacityAh[k] ?? 0) * factor;
        // Level with the others at the last full charge: it has given the same Ah since.
        const missing = 100 - (run.pack.percent[k] ?? script.startPercent);
        run.pack.percent[k] = 100 - missing / factor;
        const grown = 1 + (1 - factor) * run.chance.between(0, 0.6);
        run.pack.ohmicOhm[k] = (run.pack.ohmicOhm[k] ?? 0) * grown;
        run.pack.fastOhm[k] = (run.pack.fastOhm[k] ?? 0) * grown;
      },
    },
  };
}

export function plantHighResistanceCell({ severity, group, chance }: PlantRequest): PlantedFault {
  const ratio = 1 + sized(severity, 0.12, 1.6);
  // Ageing raises contact and charge-transfer parts most; diffusion rises along, not always as much.
  const slowRatio = 1 + (ratio - 1) * chance.between(0.6, 1.1);
  return {
    fault: "high-resistance-cell",
    groups: [group],
    severity,
    kind: "aged",
    size: ratio,
    unit: "times the usual resistance",
    alsoTrue: [],
    mischief: {
      start(run) {
        const k = group - 1;
        run.pack.ohmicOhm[k] = (run.pack.ohmicOhm[k] ?? 0) * ratio;
        run.pack.fastOhm[k] = (run.pack.fastOhm[k] ?? 0) * ratio;
        run.pack.slowOhm[k] = (run.pack.slowOhm[k] ?? 0) * slowRatio;
      },
    },
  };
}

export function plantJoint({ severity, group, chance, bench }: PlantRequest): PlantedFault {
  const kind = chance.pick(["comes and goes", "comes and goes", "steps", "steady"]);
  const ohm = bench.trueGroupOhm * sized(severity, 0.15, 3.5);
  const isOpen = flicker(chance, chance.between(0.25, 0.7), chance.between(4, 90));
  const fromProgress = chance.between(0.02, 0.3);
  return {
    fault: "high-resistance-joint",
    groups: [group],
    severity,
    kind,
    size: ohm * 1000,
    unit: "mOhm",
    alsoTrue: [],
    mischief: {
      step(run, seconds) {
        const k = group - 1;
        if (kind === "steady") run.pack.jointOhm[k] = ohm;
        else if (kind === "steps") run.pack.jointOhm[k] = run.progress > fromProgress ? ohm : 0.1 * ohm;
        else run.pack.jointOhm[k] = isOpen(seconds, run.riding) ? ohm * run.chance.between(0.85, 1.15) : 0.1 * ohm;
      },
    },
  };
}

export function plantSelfDischarge({ severity, group, bench, chance }: PlantRequest): PlantedFault {
  // % of charge a day: from what a week can hardly show to a short that empties the group in days.
  const percentPerDay = sized(severity, 0.15, 8);
  const leakA = ((percentPerDay / 100) * bench.model.ratedCapacityAh) / 24;
  const earlier = chance.happens(0.5) ? chance.between(0, Math.min(12, 8 * percentPerDay)) : 0;
  return {
    fault: "self-discharge",
    groups: [group],
    severity,
    kind: "leak",
    size: percentPerDay,
    unit: "% a day",
    alsoTrue: ["imbalance"],
    mischief: {
      start(run) {
        run.pack.leakA[group - 1] = leakA;
        run.pack.percent[group - 1] = (run.pack.percent[group - 1] ?? 0) - earlier;
      },
    },
  };
}

export function plantImbalance({ severity, group, chance, bench }: PlantRequest): PlantedFault {
  const percent = sized(severity, 2.5, 22);
  const several = chance.happens(0.3);
  const sign = chance.happens(0.75) ? -1 : 1;
  const others = [group + 3, group + 7].map((one) => ((one - 1) % bench.model.groups) + 1);
  const groups = several ? [group, ...others] : [group];
  return {
    fault: "imbalance",
    groups: groups.toSorted((a, b) => a - b),
    severity,
    kind: sign < 0 ? "below the others" : "above the others",
    size: percent,
    unit: "% of charge",
    alsoTrue: [],
    mischief: {
      start(run) {
        for (const one of groups) run.pack.percent[one - 1] = (run.pack.percent[one - 1] ?? 0) + sign * percent;
        run.balances = false;
      },
    },
  };
}

export function plantOverDischarge({ severity, group, chance, bench }: PlantRequest): PlantedFault {
  const targetV = 2.4 - 2 * severity;
  const count = chance.integer(1, 3);
  const groups = Array.from({ length: count }, (_, n) => ((group - 1 + n) % bench.model.groups) + 1).toSorted(
    (a, b) => a - b,
  );
  return {
    fault: "over-discharge",
    groups,
    severity,
    kind: "drained",
    size: targetV,
    unit: "V at rest",
    alsoTrue: ["imbalance", "weak-cell", "self-discharge", "high-resistance-cell", "high-resistance-joint"],
    mischief: {
      start(run) {
        for (const one of groups) {
          const k = one - 1;
          let percent = 0;
          while (percent > -29 && run.pack.curve(percent) > targetV) percent -= 0.05;
          run.pack.percent[k] = percent;
        }
        run.balances = false;
        run.protects = false;
      },
    },
  };
}
