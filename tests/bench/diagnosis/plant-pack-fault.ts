import { flicker, type PlantedFault, type PlantRequest, sized } from "./planted-fault";

export function plantPowerStage({ severity, chance, bench }: PlantRequest): PlantedFault {
  const kind = chance.pick(["conducts while off", "conducts while off", "open while on"]);
  const amps = Math.max(1, bench.model.ratedCapacityAh * sized(severity, 0.03, 0.5));
  return {
    fault: "power-stage-fault",
    groups: [],
    severity,
    kind,
    size: kind === "conducts while off" ? amps : 0,
    unit: "A",
    alsoTrue: ["over-discharge"],
    mischief: {
      step(run) {
        const last = run.progress > 0.7;
        if (kind === "open while on") run.open = last;
        else {
          run.commandedOff = last;
          run.stuckA = last && run.progress < 0.9 ? -amps : 0;
        }
      },
    },
  };
}

export function plantMainLead({ severity, chance, bench }: PlantRequest): PlantedFault {
  const kind = chance.pick(["comes and goes", "comes and goes", "steps", "steady"]);
  const stackOhm = bench.trueGroupOhm * bench.model.groups;
  const ohm = stackOhm * sized(severity, 0.05, 1.5);
  const isOpen = flicker(chance, chance.between(0.2, 0.6), chance.between(5, 120));
  const from = chance.between(0.05, 0.4);
  let soundOhm = 0;
  let share = 1;
  return {
    fault: "main-lead",
    groups: [],
    severity,
    kind,
    size: ohm * 1000,
    unit: "mOhm",
    alsoTrue: [],
    mischief: {
      start(run) {
        soundOhm = run.pack.pathOhm;
      },
      step(run, seconds) {
        if (kind === "steady") run.pack.pathOhm = soundOhm + ohm;
        else if (kind === "steps") run.pack.pathOhm = soundOhm + (run.progress > from ? ohm : 0);
        else {
          const open = isOpen(seconds, run.riding);
          if (!open) share = chance.between(0.5, 1);
          run.pack.pathOhm = soundOhm + (open ? ohm * share : 0);
        }
      },
    },
  };
}

export function plantWater({ severity, group, chance, bench }: PlantRequest): PlantedFault {
  const width = chance.integer(3, 6);
  const from = Math.min(group, bench.model.groups - width + 1);
  const groups = Array.from({ length: width }, (_, n) => from + n);
  const percentPerDay = sized(severity, 0.6, 8);
  const isOpen = flicker(chance, 0.05, 6);
  const logsInsulation = chance.happens(0.5);
  return {
    fault: "water-ingress",
    groups,
    severity,
    kind: logsInsulation ? "with insulation logged" : "without insulation logged",
    size: percentPerDay,
    unit: "% a day from each group of the block",
    alsoTrue: ["self-discharge", "sense-wire", "imbalance", "temperature-sensor", "measurement-fault"],
    mischief: {
      start(run) {
        for (const one of groups)
          run.pack.leakA[one - 1] =
            ((percentPerDay * chance.between(0.6, 1.4)) / 100 / 24) * bench.model.ratedCapacityAh;
        run.balances = false;
        const first = run.probeReads.length - 1;
        run.probeReads[first] = (soundC) => soundC + 4 * severity * run.progress + chance.normal(2 + 4 * severity);
      },
      step(run, seconds) {
        if (logsInsulation) run.insulationKiloohm = 2000 * Math.exp(-run.progress * 8 * severity) + 15;
        const open = isOpen(seconds, true);
        run.tapV[from] = open ? chance.between(-0.15, 0.15) : 0;
        run.tapV[from + 1] = isOpen(seconds, true) ? chance.between(-0.15, 0.15) : 0;
      },
    },
  };
}

/** An emergency: late in the log, at rest or in a ride, once the logger wakes, or from its first row on. */
export function plantAcute({ severity, group, chance, bench }: PlantRequest): PlantedFault {
  const kind = chance.pick(["short inside", "short inside", "cells lost one by one", "heats at rest", "hot probe"]);
  const { groups } = bench.model;
  const order = [group, group < groups ? group + 1 : group - 1, group < groups - 1 ? group + 2 : group - 2].filter(
    (one) => one >= 1 && one <= groups,
  );
  // Most logs end in it; some wake up into it, and some begin with it.
  const when = chance.pick(["late", "late", "late", "after a sleep", "from the first row"]);
  const at = when === "from the first row" ? 0 : chance.between(0.86, 0.93);
  const sinceS = { now: -1 };
  const collapseS = chance.between(3, 60);
  const concerned = kind === "cells lost one by one" ? order : kind === "short inside" ? [group] : [];
  return {
    fault: "acute-event",
    groups: concerned,
    severity,
    kind: when === "late" ? kind : `${kind}, ${when}`,
    size: kind === "short inside" ? 0.3 + 0.7 * severity : sized(severity, 30, 400),
    unit: kind === "short inside" ? "of its voltage lost" : "W of heat",
    alsoTrue: ["over-discharge", "self-discharge", "imbalance", "sense-wire", "measurement-fault"],
    mischief: {
      step(run, seconds) {
        run.asleep = when === "after a sleep" && run.progress > at - 0.06 && run.progress < at;
        if (run.progress < at) return;
        sinceS.now = sinceS.now < 0 ? 0 : sinceS.now + seconds;
        const since = sinceS.now;
        const k = group - 1;
        const watt = sized(severity, 30, 400) * Math.max(1, bench.model.ratedCapacityAh / 20);
        if (kind === "short inside") {
          run.pack.lost[k] = (0.3 + 0.7 * severity) * (1 - Math.exp(-since / collapseS));
          run.pack.ownHeatW[k] = watt;
        } else if (kind === "cells lost one by one") {
          for (const [n, one] of order.entries()) {
            if (since < n * 60) continue;
            run.pack.lost[one - 1] = 1;
            run.pack.ownHeatW[one - 1] = watt;
            if (since > n * 60 + 20) run.blank[one - 1] = 1;
          }
        } else if (kind === "heats at rest") run.pack.ownHeatW[k] = watt * 2;
        else
          for (const [place, probe] of run.monitor.probes.entries())
            if (place === 0)
              run.pack.warmC[probe.on] = (run.pack.warmC[probe.on] ?? 0) + (seconds * (4 + 16 * severity)) / 60;
      },
    },
  };
}
