import { flicker, type PlantedFault, type PlantRequest, sized } from "./planted-fault";

export function plantSenseWire({ severity, group, chance, bench }: PlantRequest): PlantedFault {
  const { groups } = bench.model;
  const kind = chance.pick(["jumps", "jumps", "jumps", "constant", "end tap", "drifts to the middle", "two taps"]);
  const errorV = sized(severity, 0.04, 0.9);
  const tap = kind === "end tap" ? chance.pick([0, groups]) : Math.min(Math.max(group, 2), groups - 2);
  const isOpen = flicker(chance, sized(severity, 0.01, 0.3), chance.between(2, 20));
  const sign = chance.pick([-1, 1]);
  let wander = 0;
  const concerned =
    kind === "end tap" ? [tap === 0 ? 1 : groups] : kind === "two taps" ? [tap, tap + 1, tap + 2] : [tap, tap + 1];
  return {
    fault: "sense-wire",
    groups: concerned,
    severity,
    kind,
    size: errorV * 1000,
    unit: "mV",
    alsoTrue: [],
    mischief: {
      step(run, seconds) {
        const open = isOpen(seconds, run.riding);
        if (kind === "constant") run.tapV[tap] = sign * errorV;
        else if (kind === "drifts to the middle") {
          // A held input creeps towards its end value and springs back when it touches.
          wander = open ? wander + (sign * errorV - wander) * (1 - Math.exp(-seconds / 20)) : 0;
          run.tapV[tap] = wander;
        } else {
          const now = open ? errorV * chance.between(0.5, 1) * (chance.happens(0.5) ? 1 : -1) : 0;
          run.tapV[tap] = now;
          if (kind === "two taps") run.tapV[tap + 1] = open ? -now * chance.between(0.4, 1) : 0;
        }
      },
    },
  };
}

export function plantMeasurementFault({ severity, group, chance, bench }: PlantRequest): PlantedFault {
  const kind = chance.pick([
    "block steps",
    "block steps",
    "block from the start",
    "one channel freezes",
    "log stands still",
  ]);
  const { groups } = bench.model;
  const stillS = sized(severity, 30, 900);
  if (kind === "log stands still") return logStandsStill(severity, stillS, at0(chance));
  const width = kind === "one channel freezes" ? 1 : chance.integer(3, Math.max(3, Math.floor(groups / 3)));
  const from = Math.min(group, groups - width + 1);
  const concerned = Array.from({ length: width }, (_, n) => from + n);
  const errorV = sized(severity, 0.015, 0.25) * chance.pick([-1, 1]);
  const at = chance.between(0.25, 0.6);
  return {
    fault: "measurement-fault",
    groups: concerned,
    severity,
    kind,
    size: kind === "one channel freezes" ? at : errorV * 1000,
    unit: kind === "one channel freezes" ? "of the log before it freezes" : "mV",
    alsoTrue: [],
    mischief: {
      step(run) {
        const on = kind === "block from the start" || run.progress > at;
        if (kind === "one channel freezes") {
          const last = run.rows.at(-1)?.cellV[from - 1];
          if (on && Number.isNaN(run.heldV[from - 1]) && last !== undefined) run.heldV[from - 1] = last;
          return;
        }
        for (const one of concerned) run.channelV[one - 1] = on ? errorV : 0;
      },
    },
  };
}

/** Share of the log after which the logger may stop. */
const at0 = (chance: PlantRequest["chance"]) => chance.between(0.1, 0.5);

/** The logger repeats its last row while the pack is ridden on. */
function logStandsStill(severity: number, stillS: number, from: number): PlantedFault {
  let since = -1;
  return {
    fault: "measurement-fault",
    groups: [],
    severity,
    kind: "log stands still",
    size: stillS,
    unit: "s of riding",
    alsoTrue: [],
    mischief: {
      step(run, seconds) {
        const loaded = Math.abs(run.rows.at(-1)?.currentA ?? 0) > 1;
        if (since < 0 && run.progress > from && run.riding && loaded) since = 0;
        if (since >= 0) since += seconds;
        run.standsStill = since >= 0 && since < stillS;
      },
    },
  };
}

export function plantProbeFault({ severity, chance }: PlantRequest): PlantedFault {
  const kind = chance.pick(["stuck", "open", "short", "jumps", "off"]);
  const probe = chance.integer(0, 1);
  const offK = sized(severity, 3, 30) * chance.pick([-1, 1]);
  let held: number | null = null;
  return {
    fault: "temperature-sensor",
    groups: [],
    severity,
    kind,
    size: kind === "off" ? offK : kind === "jumps" ? sized(severity, 6, 60) : 0,
    unit: "K",
    alsoTrue: [],
    mischief: {
      start(run) {
        const from = chance.happens(0.5) ? 0 : chance.between(0.1, 0.5);
        run.probeReads[probe] = (soundC) => {
          if (run.progress < from) return null;
          if (kind === "open") return -40;
          if (kind === "short") return chance.pick([125, 150, 200]);
          if (kind === "off") return soundC + offK;
          if (kind === "jumps") return chance.happens(0.05) ? soundC + sized(severity, 6, 60) : soundC;
          held ??= soundC;
          return held;
        };
      },
    },
  };
}
