import { groupSerial, SERIAL_LENGTH_CHARACTERS, type UnreadSerial } from "./serial";

/** The sentence beside the serial field: what is wrong and what to do. */
export function serialSentence(reading: UnreadSerial): string {
  switch (reading.kind) {
    case "empty":
      return "Scan the label or type the serial printed on it.";
    case "wrong-length":
      return `A serial has ${SERIAL_LENGTH_CHARACTERS} characters; this has ${reading.characters}. Compare it with the label once more.`;
    case "foreign-character":
      return `Character ${reading.position} (${reading.character}) never stands in a serial: they hold the letters A to Z and digits only.`;
    case "check-failed":
      return checkFailedSentence(reading.likely.map(groupSerial));
    default: {
      const never: never = reading;
      return never;
    }
  }
}

function checkFailedSentence(likely: readonly string[]): string {
  const start = "The last character does not fit the others, so one of them is mistyped.";
  if (likely.length === 0) return `${start} Read the label once more, one group at a time.`;
  return `${start} Does the label say ${likely.join(" or ")}?`;
}
