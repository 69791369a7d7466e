import { AnswerForm } from "@/app/_components/answer-form";
import { AskedSelect, AskedText } from "@/app/_components/asked-fields";
import { DataTable } from "@/app/_components/data-table";
import { LocalTime } from "@/app/_components/local-time";
import { Notice } from "@/app/_components/notice";
import type { ReceivedPack } from "@/lib/data/receiving/received-pack";
import { LEAST_WATCH_HOURS } from "@/lib/receiving/watch-hours";
import type { WatchTask, WatchVerdict } from "@/lib/receiving/watch-readings";
import { WorkSection } from "../bench-section";
import { placeAction, recordWatchAction, releaseAction } from "./actions";
import { RestartForm } from "./restart-form";

interface QuarantinePartProps {
  readonly pack: ReceivedPack;
  readonly mayReceive: boolean;
  /** The safety officer or a deputy says what an alarm meant. */
  readonly mayJudge: boolean;
}

/** Where it lies, how it behaves, and when it may leave. */
export function QuarantinePart({ pack, mayReceive, mayJudge }: QuarantinePartProps) {
  const { arrival, reference, placeCodes, energyKwh } = pack;
  if (arrival === null) {
    return (
      <WorkSection title="3. Quarantine">
        <p>Record first that the pack came in.</p>
      </WorkSection>
    );
  }
  const { stay, tasks, verdict, readings, restarts, neededHours, watchedUntil } = arrival;
  const liesThere = stay !== null && stay.releasedAt === null;
  return (
    <WorkSection title="3. Quarantine">
      <VerdictNotice verdict={verdict} />
      {neededHours === LEAST_WATCH_HOURS ? null : (
        <Notice
          kind="caution"
          title={`It is watched for ${neededHours} hours: it or its box was hit or got wet, or a danger of it was told`}
        >
          <p>
            The watch ends on <LocalTime at={watchedUntil} />. The number of hours is a default of this house; whoever
            answers for the place may ask for more.
          </p>
        </Notice>
      )}
      {restarts.map(({ restartedAt, reason, byName }) => (
        <p key={restartedAt.toISOString()}>
          The watch began anew on <LocalTime at={restartedAt} />, {byName}: {reason}
        </p>
      ))}
      {stay === null ? null : (
        <p>
          {stay.releasedAt === null ? "Has been" : "Was"} in {stay.placeCode} since <LocalTime at={stay.placedAt} />
          {stay.releasedAt === null ? `, at least ${stay.minimumHours} hours.` : ""}
          {stay.releasedAt === null ? null : (
            <>
              , let go by {stay.releasedByName} on <LocalTime at={stay.releasedAt} />.
            </>
          )}
        </p>
      )}
      {mayReceive && (stay === null || stay.releasedAt === null) ? (
        <AnswerForm
          action={placeAction}
          submit={stay === null ? "Lay it there" : "Lay it elsewhere"}
          weight={stay === null ? "main" : "second"}
        >
          <input type="hidden" name="reference" value={reference} />
          <AskedSelect
            name="place"
            label="Quarantine place"
            hint={`This pack counts with ${energyKwh.toFixed(1)} kWh, whatever its charge.${stay === null ? "" : " Its hours begin anew there."}`}
            required
          >
            {placeCodes
              .filter((code) => code !== stay?.placeCode)
              .map((code) => (
                <option key={code} value={code}>
                  {code}
                </option>
              ))}
          </AskedSelect>
        </AnswerForm>
      ) : null}
      <DataTable
        entriesWhenNarrow
        caption="Measurements to take"
        columns={[
          { head: "After", cell: (task: WatchTask) => `${task.afterHours} h` },
          { head: "Due", cell: (task) => <LocalTime at={task.dueAt} /> },
          { head: "State", cell: (task) => taskWords[task.state] },
        ]}
        rows={tasks}
        rowKey={(task) => String(task.afterHours)}
        whenEmpty="None."
      />
      <DataTable
        entriesWhenNarrow
        caption="Measured"
        columns={[
          { head: "At", cell: (row: (typeof readings)[number]) => <LocalTime at={row.at} /> },
          { head: "Surface, °C", cell: (row) => row.surfaceC.toFixed(1), numeric: true },
          { head: "Room, °C", cell: (row) => row.ambientC.toFixed(1), numeric: true },
          {
            head: "Terminals, V",
            cell: (row) => row.terminalV?.toFixed(2) ?? row.noVoltageBecause ?? "not measured",
            numeric: true,
          },
        ]}
        rows={readings}
        rowKey={(row) => row.at.toISOString()}
        whenEmpty="Nothing was measured yet."
      />
      {mayReceive && liesThere ? (
        <AnswerForm action={recordWatchAction} submit="Keep this measurement" weight="second">
          <input type="hidden" name="reference" value={reference} />
          <AskedText name="surfaceC" id="surface" label="Surface, °C" inputMode="decimal" required />
          <AskedText name="ambientC" id="ambient" label="Room, °C" inputMode="decimal" required />
          <AskedText
            name="terminalV"
            id="terminal"
            label="Terminals, V"
            hint="Leave empty where it is not safe to connect, and say why below."
            inputMode="decimal"
          />
          <AskedText
            name="noVoltageBecause"
            id="no-voltage"
            label="Why no voltage"
            hint="Only where none was measured."
            maxLength={500}
          />
        </AnswerForm>
      ) : null}
      <RestartForm
        reference={reference}
        isAlarm={verdict.kind === "alarm"}
        isMissed={verdict.kind === "no-voltage" || tasks.some(({ state }) => state === "overdue")}
        mayReceive={mayReceive}
        mayJudge={mayJudge}
      />
      {mayReceive && liesThere ? (
        <AnswerForm action={releaseAction} submit="Let it go to the bench">
          <input type="hidden" name="reference" value={reference} />
          {pack.missingFaces.length === 0 ? null : (
            <AskedText
              name="noFacesBecause"
              id="no-faces"
              label="Why faces are not photographed"
              hint="How it came in can be seen until it is opened, and never again. Photograph them above, or say why not."
              maxLength={500}
            />
          )}
        </AnswerForm>
      ) : null}
    </WorkSection>
  );
}

const taskWords: Readonly<Record<WatchTask["state"], string>> = {
  done: "Taken",
  due: "Take it now",
  later: "Later",
  overdue: "Overdue",
};

function VerdictNotice({ verdict }: { verdict: WatchVerdict }) {
  switch (verdict.kind) {
    case "alarm":
      return (
        <Notice kind="danger" title="It is changing: keep away, warn the others">
          {verdict.because.map((sentence) => (
            <p key={sentence}>{sentence}</p>
          ))}
          <p>Follow the emergency card of the place. The fire service and local rules come first.</p>
        </Notice>
      );
    case "steady":
      return <p>Steady over {verdict.overHours.toFixed(0)} hours of measurements.</p>;
    case "no-voltage":
      return <p>Its voltage was not followed to the end, and nobody said why: begin the watch anew.</p>;
    case "too-short":
      return <p>Measured over {verdict.overHours.toFixed(1)} hours: nobody can say yet that it is steady.</p>;
    case "nothing-measured":
      return <p>Nothing was measured yet, so nobody can say how it behaves.</p>;
    default: {
      const never: never = verdict;
      return never;
    }
  }
}
