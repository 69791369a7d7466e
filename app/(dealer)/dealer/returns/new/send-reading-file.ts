import type { ReadingSummary } from "../../reading-in-plain-words";
import { uploadAnswerSchema } from "./reading-summary.schema";

interface SendOptions {
  readonly file: File;
  readonly serial: string;
  /** Share of the bytes that left this device, 0 to 1. */
  readonly onProgress: (share: number) => void;
  readonly signal: AbortSignal;
}

type SendAnswer =
  | { readonly kind: "read"; readonly summary: ReadingSummary }
  | { readonly kind: "refused"; readonly sentence: string }
  | { readonly kind: "cancelled" };

const unreachable =
  "The file did not arrive: the connection or our server failed. Choose it again; your answers are kept.";

/** Sends the bytes as they are. XMLHttpRequest, because fetch cannot say how much of an upload has left the device. */
export function sendReadingFile({ file, serial, onProgress, signal }: SendOptions): Promise<SendAnswer> {
  return new Promise((resolve) => {
    const request = new XMLHttpRequest();
    request.open("POST", `/dealer/readings?${new URLSearchParams({ serial, name: file.name })}`);
    request.setRequestHeader("content-type", "application/octet-stream");
    request.responseType = "json";
    request.upload.onprogress = ({ loaded, total }) => onProgress(total === 0 ? 1 : loaded / total);
    request.upload.onload = () => onProgress(1);
    request.onload = () => {
      const answer = uploadAnswerSchema.safeParse(request.response);
      if (!answer.success) resolve({ kind: "refused", sentence: unreachable });
      else if (answer.data.ok) resolve({ kind: "read", summary: answer.data.file });
      else resolve({ kind: "refused", sentence: answer.data.sentence });
    };
    request.onerror = () => resolve({ kind: "refused", sentence: unreachable });
    request.onabort = () => resolve({ kind: "cancelled" });
    signal.addEventListener("abort", () => request.abort(), { once: true });
    request.send(file);
  });
}
