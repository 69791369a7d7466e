import { Button } from "@/app/_components/button";
import type { SendingStage } from "./send-reading-file";

interface ReadingUnderWayProps {
  readonly fileName: string;
  readonly stage: SendingStage;
  readonly onCancel: () => void;
}

const count = new Intl.NumberFormat("en-GB");

/** How far a file is, in words and as a bar: first leaving this device, then read, then judged. Can be called off at any time. */
export function ReadingUnderWay({ fileName, stage, onCancel }: ReadingUnderWayProps) {
  const { words, said, percent } = sayStage(stage);
  return (
    <div className="card space-y-3 p-4">
      <label className="block">
        <span className="font-semibold break-all">{fileName}</span>
        {/* Without a value the bar shows that something goes on, not how much is left. */}
        <progress max={100} {...(percent === null ? {} : { value: percent })} className="progress mt-2" />
      </label>
      <p aria-hidden className="tabular-nums">
        {words}
      </p>
      {/* Said once for each stage; every percent would drown everything else. */}
      <p role="status" className="sr-only">
        {said}
      </p>
      <Button weight="second" onClick={onCancel}>
        Cancel
      </Button>
    </div>
  );
}

function sayStage(stage: SendingStage): { words: string; said: string; percent: number | null } {
  switch (stage.kind) {
    case "sending": {
      const percent = Math.floor(stage.share * 100);
      if (percent >= 100) return { words: "Sent. It will be read now…", said: "Sent", percent: null };
      return { words: `${percent} % sent`, said: "Sending the file", percent };
    }
    case "reading": {
      const percent = Math.floor(stage.share * 100);
      const said = "Sent. Reading it now";
      if (stage.rows === 0) return { words: "Sent. Waiting for its turn to be read…", said, percent: null };
      return { words: `Reading it: ${count.format(stage.rows)} rows so far (${percent} %)`, said, percent };
    }
    case "judging":
      return {
        words: `${count.format(stage.rows)} rows read. Working out what they show…`,
        said: "Read. Working out what it shows",
        percent: null,
      };
    default: {
      const never: never = stage;
      return never;
    }
  }
}
