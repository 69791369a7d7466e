import Link from "next/link";
import { AnswerForm } from "@/app/_components/answer-form";
import { AskedLong } from "@/app/_components/asked-fields";
import { LocalTime } from "@/app/_components/local-time";
import { SerialText } from "@/app/_components/serial-text";
import type { FoundPack } from "@/lib/data/receiving/found-pack";
import { WorkSection } from "../bench-section";
import { endFoundStayAction } from "./actions";

interface FoundPartProps {
  readonly reference: string;
  readonly found: readonly FoundPack[];
  readonly mayReceive: boolean;
}

/** Packs that lay in the box of this return and are not its own: where each goes on. */
export function FoundPart({ reference, found, mayReceive }: FoundPartProps) {
  if (found.length === 0) return null;
  return (
    <WorkSection title="Another pack that came in its box">
      <ul className="space-y-4">
        {found.map((one, index) => (
          <li key={one.stay?.id ?? `${one.serialShown} ${index}`} className="space-y-2">
            <p>
              {one.serialShown === null ? (
                "A pack whose serial cannot be read"
              ) : (
                <SerialText>{one.serialShown}</SerialText>
              )}
              {one.stay === null ? ", laid in no quarantine place." : null}
              {one.stay === null ? null : (
                <>
                  {" "}
                  lies in {one.stay.placeCode} since <LocalTime at={one.stay.placedAt} />.
                </>
              )}
            </p>
            <WhereItGoesOn one={one} />
            {mayReceive && !one.isKnown && one.stay !== null ? (
              <AnswerForm action={endFoundStayAction} submit="It has left this place" weight="second">
                <input type="hidden" name="reference" value={reference} />
                <input type="hidden" name="stayId" value={one.stay.id} />
                <AskedLong
                  name="because"
                  id={`found-${index}`}
                  label="Who took it, and where it went"
                  required
                  rows={2}
                  maxLength={500}
                />
              </AnswerForm>
            ) : null}
          </li>
        ))}
      </ul>
    </WorkSection>
  );
}

function WhereItGoesOn({ one: { isKnown, ownReference } }: { one: FoundPack }) {
  if (ownReference !== null)
    return (
      <p>
        Scan it in under its own return, <Link href={`/bench/${ownReference}/receiving`}>{ownReference}</Link>: its
        place goes along, and it is watched and let go there.
      </p>
    );
  return isKnown ? (
    <p>
      It has no open return. <Link href="/bench/new">Write one for its dealer</Link>, then scan it in under that one:
      its place goes along.
    </p>
  ) : (
    <p>No record knows it. Ask the dealer whose it is, and keep it apart until somebody who may takes it.</p>
  );
}
