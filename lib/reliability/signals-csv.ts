import { csvTable } from "@/lib/settlement/csv-table";
import { type EarlySignals, WATCH_DAYS } from "./early-signals";
import type { SignalIfFailures } from "./if-failures";
import { COUNTING_RULES_VERSION, SIGNAL_RULES_VERSION } from "./rule-version";
import { timesOfLikes } from "./signal-sentences";

/** Every group watched, nearest to a signal first; data date and rules in every row. */
export function signalsCsv(dataDate: string, { states }: EarlySignals, all: readonly SignalIfFailures[]): string {
  return csvTable(
    fields,
    states.map((state) => {
      const times = timesOfLikes(state);
      const taken = all.find(({ now }) => now === state);
      return [
        dataDate,
        COUNTING_RULES_VERSION,
        SIGNAL_RULES_VERSION,
        state.by,
        state.group,
        state.stratum,
        state.fault ?? "all together",
        state.alarm ? "signal" : "none",
        state.holds === null ? "" : state.holds ? "whatever the delay" : "cannot tell yet",
        state.packsInUse,
        state.observed,
        state.undecided,
        state.expected,
        state.likesFailed,
        times?.ratio ?? "",
        times?.lower ?? "",
        times?.upper ?? "",
        state.alarmAt,
        state.evidence,
        state.threshold,
        taken?.undecided ?? (state.fault === null ? 0 : ""),
        taken?.then.observed ?? "",
        taken?.then.expected ?? "",
        taken === undefined ? "" : taken.then.alarm ? "signal" : "none",
      ];
    }),
  );
}

const fields = [
  "data date",
  "counting rules",
  "signal rules",
  "grouped by",
  "group",
  "model",
  "fault",
  "signal",
  "holds whatever the delay, or cannot be told yet",
  "packs in use",
  `confirmed failures in the first ${WATCH_DAYS} days in use`,
  "undecided returns, not counted",
  "failures to be expected by now",
  "failures of its likes",
  "times as often as its likes",
  "lower exact 95 % limit, for this day alone",
  "upper exact 95 % limit, for this day alone",
  "a signal from so many failures",
  "evidence as log likelihood ratio",
  "evidence for a signal",
  "returns undecided for too long",
  "failures, were they such",
  "failures to be expected by now, were they such",
  "signal, were they such",
];
