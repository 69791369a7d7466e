import type { SheetLanguages } from "@/lib/transport/who-packs";
import { SaidTwice } from "./said-twice";

interface EmergencyLineProps {
  readonly phone: string | null;
  readonly country: string;
  readonly languages: SheetLanguages;
}

/** Whom to call about the load on its way; a line to write on where the house has set no number. */
export function EmergencyLine({ phone, country, languages }: EmergencyLineProps) {
  return (
    <p className="sheet-emergency">
      <strong>
        <SaidTwice english="Emergency telephone for this load:" country={country} languages={languages} inOneLine />{" "}
        {phone ?? <span className="sheet-blank" />}
      </strong>{" "}
      <SaidTwice english="Call the local emergency number first." country={country} languages={languages} inOneLine />
    </p>
  );
}
