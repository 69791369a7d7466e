import { healthyUses } from "./healthy-use";
import type { JudgedFault, Verdict } from "./judge-trial";
import { plantedClasses, type Trial } from "./make-trial";
import { sayShare } from "./proportion";
import { reliability } from "./reliability-table";

interface Case {
  readonly verdict: Verdict;
  readonly fault: JudgedFault;
}

/** The whole scored report, as text on standard output. */
export function printReport(seed: string, verdicts: readonly Verdict[]): void {
  const cases = verdicts.flatMap((verdict) => verdict.faults.map((fault): Case => ({ verdict, fault })));
  console.log(`Diagnosis benchmark, seed ${seed}, ${verdicts.length} packs, ${cases.length} faults planted.\n`);
  printRecall(verdicts, cases);
  printPrecision(verdicts);
  printHealthy(verdicts);
  printUnseen(verdicts, cases);
  printConfusion(verdicts);
  printCalibration(verdicts);
  printMissed(verdicts, cases);
}

function printRecall(verdicts: readonly Verdict[], cases: readonly Case[]): void {
  console.log(
    "RECALL where the evidence is in the log (95 % limits; count). named: at the right groups, first or with 0.5 and more, and not given back as it is; mentioned: among the findings at all; leads: named first.",
  );
  for (const name of plantedClasses) {
    const visible = cases.filter(({ fault }) => fault.planted.fault === name && fault.visibility === "visible");
    const named = visible.filter(({ fault }) => fault.named).length;
    const mentioned = visible.filter(({ fault }) => fault.mentioned).length;
    const leads = visible.filter(({ fault }) => fault.leads).length;
    console.log(
      `  ${name.padEnd(22)} named ${sayShare(named, visible.length).padEnd(42)} mentioned ${String(mentioned).padEnd(5)} leads ${sayShare(leads, visible.length)}`,
    );
  }
  console.log("  In the band between the trade's limit of a class and a clear case, named:");
  for (const name of plantedClasses) {
    const band = cases.filter(({ fault }) => fault.planted.fault === name && fault.visibility === "in the band");
    if (band.length > 0)
      console.log(
        `  ${name.padEnd(22)} named ${sayShare(band.filter(({ fault }) => fault.named).length, band.length)}`,
      );
  }
  const acute = cases.filter(({ fault }) => fault.planted.fault === "acute-event" && fault.visibility === "visible");
  const missed = acute.filter(({ verdict }) => verdict.findings.some(({ fault }) => fault === "no-fault-found"));
  console.log(`  acute files called "no fault found": ${missed.length} of ${acute.length}`);
  console.log(`  files that could not be read: ${verdicts.filter(({ unusable }) => unusable !== null).length}\n`);
}

function printPrecision(verdicts: readonly Verdict[]): void {
  console.log(
    "PRECISION: of the findings of a class that lead, and of all with confidence of 0.5 and more, the share something planted explains.",
  );
  for (const name of plantedClasses) {
    const explained = (verdict: Verdict, at: number) => {
      const finding = verdict.findings[at];
      return finding !== undefined && !verdict.falseFindings.includes(finding);
    };
    const leading = verdicts.filter(({ findings }) => findings[0]?.fault === name);
    const sure = verdicts.flatMap((verdict) =>
      verdict.findings.flatMap((finding, at) =>
        finding.fault === name && finding.confidence >= 0.5 ? [explained(verdict, at)] : [],
      ),
    );
    console.log(
      `  ${name.padEnd(22)} leading ${sayShare(leading.filter((verdict) => explained(verdict, 0)).length, leading.length).padEnd(42)} sure ${sayShare(sure.filter(Boolean).length, sure.length)}`,
    );
  }
  console.log("");
}

function printHealthy(verdicts: readonly Verdict[]): void {
  const healthy = verdicts.filter(({ healthyUse }) => healthyUse !== null);
  const alarms = healthy.filter(({ falseFindings }) => falseFindings.length > 0);
  const cannot = healthy.filter(({ remedy }) => remedy === "cannot-tell");
  console.log(`HEALTHY packs with any finding at all: ${sayShare(alarms.length, healthy.length)}`);
  console.log(`  of them "cannot tell": ${sayShare(cannot.length, healthy.length)}`);
  for (const use of healthyUses) {
    const these = healthy.filter(({ healthyUse }) => healthyUse === use);
    const wrong = these.filter(({ falseFindings }) => falseFindings.length > 0);
    const unsure = these.filter(({ remedy }) => remedy === "cannot-tell");
    console.log(`  ${use.padEnd(20)} ${these.length} packs, ${wrong.length} alarms, ${unsure.length} cannot tell`);
  }
  console.log('  why "cannot tell", by the reason that comes first, numbers left out:');
  for (const [reason, count] of countedReasons(cannot)) console.log(`    ${String(count).padStart(4)} ${reason}`);
  console.log("");
}

function countedReasons(verdicts: readonly Verdict[]): [string, number][] {
  const counts = new Map<string, number>();
  for (const { reasons } of verdicts) {
    const reason = (reasons[0] ?? "").replaceAll(/[\d.]+/g, "#");
    counts.set(reason, (counts.get(reason) ?? 0) + 1);
  }
  return [...counts].toSorted((a, b) => b[1] - a[1]);
}

/** Real faults the file cannot show: the honest answer is that something could not be judged. */
function printUnseen(verdicts: readonly Verdict[], cases: readonly Case[]): void {
  const unseen = cases.filter(
    ({ verdict, fault }) => fault.visibility === "not in the log" && verdict.faults.length === 1,
  );
  const named = unseen.filter(({ fault }) => fault.named);
  const cannot = unseen.filter(({ verdict, fault }) => !fault.named && verdict.remedy === "cannot-tell");
  const sound = unseen.filter(({ verdict }) => verdict.findings[0]?.fault === "no-fault-found");
  const open = sound.filter(({ fault }) => fault.saidUnseen);
  const soundAtAll = verdicts.filter(({ findings }) => findings[0]?.fault === "no-fault-found");
  const faulty = soundAtAll.filter(({ faults }) => faults.some(({ visibility }) => visibility !== "below the class"));
  const missed = soundAtAll.filter(({ faults }) => faults.some(({ visibility }) => visibility === "visible"));
  console.log(
    `CALLED SOUND: ${soundAtAll.length} packs; a fault of its class is in ${sayShare(faulty.length, soundAtAll.length)}, one the file shows in ${missed.length}`,
  );
  const other = unseen.filter(({ verdict }) => verdict.falseFindings.length > 0);
  console.log(
    `REAL FAULTS THE FILE CANNOT SHOW: ${unseen.length}; named all the same ${named.length}, "cannot tell" ${cannot.length}, "no fault found" ${sound.length} (${open.length} of them say that this very class could not be seen), something else named ${other.length}`,
  );
  for (const { verdict, fault } of sound) {
    if (!fault.saidUnseen)
      console.log(`  called sound without a word of it: case ${verdict.seed}/${verdict.place} ${sayPlanted(fault)}`);
  }
  console.log("");
}

function printConfusion(verdicts: readonly Verdict[]): void {
  const columns = [...plantedClasses, "no-fault-found", "cannot tell"];
  const letters = columns.map((_, at) => String.fromCharCode(97 + at));
  console.log(
    "CONFUSION, packs with one fault that shows, and healthy packs: rows planted, columns the leading finding.",
  );
  console.log(`  ${"".padEnd(24)}${letters.map((letter) => letter.padStart(4)).join("")}`);
  const rows = [...plantedClasses.map((name) => name as string), "healthy"];
  for (const [at, name] of rows.entries()) {
    const these = verdicts.filter(({ faults, healthyUse }) =>
      name === "healthy"
        ? healthyUse !== null
        : faults.length === 1 && faults[0]?.planted.fault === name && faults[0].visibility === "visible",
    );
    const counts = columns.map(
      (column) => these.filter(({ findings }) => (findings[0]?.fault ?? "cannot tell") === column).length,
    );
    console.log(
      `  ${letters[at] ?? " "} ${name.padEnd(22)}${counts.map((count) => (count === 0 ? "." : String(count)).padStart(4)).join("")}`,
    );
  }
  console.log(`  ${columns.map((column, at) => `${letters[at]} ${column}`).join(", ")}\n`);
}

function printCalibration(verdicts: readonly Verdict[]): void {
  const pairs = verdicts.flatMap((verdict) =>
    verdict.findings.map((finding, at) => ({ stated: finding.confidence, right: verdict.right[at] === true })),
  );
  console.log(
    'CALIBRATION of confidence (a finding is right where that very fault was planted at those groups; "no fault found" where every fault is below its class, or not in the log and named as not seen):',
  );
  for (const row of reliability(pairs)) console.log(`  ${row}`);
  console.log("");
}

function printMissed(verdicts: readonly Verdict[], cases: readonly Case[]): void {
  console.log("MISSED or not leading (seed/place; re-run one: npm run -s bench:diagnosis -- --seed S --case PLACE):");
  for (const { verdict, fault } of cases) {
    if (fault.visibility !== "visible" || fault.leads) continue;
    console.log(
      `  ${fault.named ? "second" : "MISSED"} case ${verdict.seed}/${verdict.place} ${sayPlanted(fault)} -> ${sayFindings(verdict)}`,
    );
  }
  console.log("FALSE:");
  for (const verdict of verdicts) {
    if (verdict.falseFindings.length === 0) continue;
    const what = verdict.healthyUse ?? verdict.faults.map(sayPlanted).join(" + ");
    console.log(
      `  case ${verdict.seed}/${verdict.place} ${what} -> ${sayFindings(verdict)}: ${verdict.falseFindings[0]?.evidenceFor[0] ?? ""}`,
    );
  }
}

function sayPlanted({ planted, visibility }: JudgedFault): string {
  return `${planted.fault} (${planted.kind}, ${planted.size.toPrecision(3)} ${planted.unit}, groups ${planted.groups.join("+") || "-"}, severity ${planted.severity.toFixed(2)}, ${visibility})`;
}

function sayFindings({ findings, reasons }: Verdict): string {
  if (findings.length === 0) return `cannot tell (${reasons[0]})`;
  return findings
    .slice(0, 4)
    .map((one) => `${one.fault}[${one.groups.join("+")}] ${one.confidence}`)
    .join(", ");
}

/** One case in full. */
export function sayVerdict(trial: Trial, verdict: Verdict): string {
  const { bench, monitor, style } = trial;
  return JSON.stringify(
    {
      model: { ...bench.model, openCircuit: bench.model.openCircuit === undefined ? "not told" : "told" },
      chemistry: bench.chemistry,
      rows: trial.truth.length,
      monitor: { ...monitor, channelErrorV: undefined, leadOhm: undefined },
      style: { ...style, leavesOut: [...style.leavesOut] },
      healthyUse: trial.healthyUse,
      planted: verdict.faults.map(sayPlanted),
      findings: verdict.findings,
      remedy: verdict.remedy,
      reasons: verdict.reasons,
    },
    null,
    1,
  );
}
