import type { Baseline } from "@/lib/diagnosis/baseline";
import { GROWTH_THAT_STANDS_OUT, type GroupBesideGroup, resistanceBeside } from "@/lib/diagnosis/built-beside-found";
import type { Finding, Measurement } from "@/lib/diagnosis/finding";
import { confidence, inDigits } from "@/lib/diagnosis/wording";
import { median } from "@/lib/readings/measure/median";

/** How far a comparison with the pack's own record moves a belief. Engineering defaults, no authority. */
const GROWN_ADDS = 0.06;
const BUILT_SO_TAKES = 0.2;
/** A group that stood this far above the middle group when built, and has not grown since, was built so. */
const BUILT_HIGH = 1.1;
const HARDLY_GROWN = 1.06;
/** A loose wire where potting holds the harness is less likely, where nothing holds it more. */
const LOOSE_ADDS = 0.03;
const POTTED_TAKES = 0.05;

/**
 * Weighs findings against what is known of this pack from before the log: a group that rose against its own built value
 * is stronger evidence than one that stands above its neighbours, because neighbours never were equal; one that was built
 * high and did not rise speaks against a fault. Returns the findings with evidence and confidence changed, in their order.
 */
export function weighAgainstBuilt(
  findings: readonly Finding[],
  measurements: readonly Measurement[],
  baseline: Baseline | null,
): Finding[] {
  if (baseline === null) return [...findings];
  const { groups } = resistanceBeside(baseline.built?.groupResistanceMilliohm ?? [], measurements);
  return findings.map((finding) => {
    if (finding.fault === "high-resistance-cell" || finding.fault === "high-resistance-joint") {
      return weighResistance(finding, groups);
    }
    if (finding.fault === "sense-wire") return weighSenseWire(finding, baseline.potted);
    return finding;
  });
}

function weighResistance(finding: Finding, groups: readonly GroupBesideGroup[]): Finding {
  const own = groups.find(({ group }) => group === finding.groups[0]);
  if (own === undefined || own.growth === null || own.builtMilliohm === null || own.foundMilliohm === null) {
    return finding;
  }
  const builtRatio = own.builtMilliohm / (median(groups.map(({ builtMilliohm }) => builtMilliohm ?? Number.NaN)) ?? 1);
  const values = `built ${inDigits(own.builtMilliohm, 3)} mOhm, found ${inDigits(own.foundMilliohm, 3)} mOhm by another test`;
  if (own.growth >= GROWTH_THAT_STANDS_OUT) {
    return changed(finding, GROWN_ADDS, {
      evidenceFor: `Since it was built group ${own.group} has risen ${inDigits((own.growth - 1) * 100, 0)} % more than the middle group (${values}).`,
    });
  }
  if (builtRatio >= BUILT_HIGH && own.growth <= HARDLY_GROWN) {
    return changed(finding, -BUILT_SO_TAKES, {
      evidenceAgainst: `Group ${own.group} stood ${inDigits((builtRatio - 1) * 100, 0)} % above the middle group when it was built and has not risen since (${values}).`,
    });
  }
  return changed(finding, 0, {
    evidenceAgainst: `Against its own built value group ${own.group} has risen only ${inDigits((own.growth - 1) * 100, 0)} % more than the middle group (${values}).`,
  });
}

/**
 * Common practice, no source: in early packs without potting the sense wires work loose under vibration; where the
 * harness is cast in they hardly ever do.
 */
function weighSenseWire(finding: Finding, potted: boolean | null): Finding {
  if (potted === null) return finding;
  return potted
    ? changed(finding, -POTTED_TAKES, {
        evidenceAgainst:
          "This revision is potted: its sense wires are held fast and seldom work loose. A fault of the connector or the board looks the same.",
      })
    : changed(finding, LOOSE_ADDS, {
        evidenceFor: "This revision is not potted: nothing holds its sense wires against vibration but their solder.",
      });
}

function changed(
  finding: Finding,
  by: number,
  added: { readonly evidenceFor?: string; readonly evidenceAgainst?: string },
): Finding {
  return {
    ...finding,
    confidence: confidence(finding.confidence + by),
    evidenceFor: [...finding.evidenceFor, ...(added.evidenceFor === undefined ? [] : [added.evidenceFor])],
    evidenceAgainst: [
      ...finding.evidenceAgainst,
      ...(added.evidenceAgainst === undefined ? [] : [added.evidenceAgainst]),
    ],
  };
}
