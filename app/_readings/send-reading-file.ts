import type { HeldQuestions } from "@/lib/readings/column-choice.schema";
import type { ColumnAnswers } from "@/lib/readings/column-questions";
import type { ReadingSummary } from "./reading-in-plain-words";
import { uploadLineSchema } from "./reading-summary.schema";

/** How far a file is: leaving this device, or read by the server. */
export type SendingStage =
  | { readonly kind: "sending"; readonly share: number }
  | { readonly kind: "reading"; readonly share: number; readonly rows: number }
  | { readonly kind: "judging"; readonly rows: number };

interface SendOptions {
  readonly file: File;
  readonly serial: string;
  /** The open return it is brought for; missing while its form was not sent. */
  readonly reference: string | undefined;
  readonly onStage: (stage: SendingStage) => void;
  readonly signal: AbortSignal;
}

export type SendAnswer =
  | { readonly kind: "read"; readonly summary: ReadingSummary }
  | { readonly kind: "ask"; readonly questions: HeldQuestions }
  | { readonly kind: "refused"; readonly sentence: string }
  | { readonly kind: "cancelled" };

const unreachable =
  "The file did not arrive: the connection or our server failed. Choose it again; your answers are kept.";

/** Sends the bytes as they are. XMLHttpRequest, because fetch cannot say how much of an upload has left the device. */
export function sendReadingFile({ file, serial, reference, onStage, signal }: SendOptions): Promise<SendAnswer> {
  const address = `/readings?${new URLSearchParams({ serial, name: file.name, ...(reference === undefined ? {} : { reference }) })}`;
  return send(address, file, "application/octet-stream", onStage, signal);
}

/** Sends what a person said about the columns of a file the server holds, or asks for the questions once more. */
export function sendColumns(
  order: { readonly heldId: string; readonly answers: ColumnAnswers } | { readonly fileId: string },
  { onStage, signal }: Pick<SendOptions, "onStage" | "signal">,
): Promise<SendAnswer> {
  return send("/readings/columns", JSON.stringify(order), "application/json", onStage, signal);
}

/** Tells the server that a file it holds is not wanted. Where that does not arrive, the file is swept away within a day. */
export function letHeldGo(heldId: string): void {
  letGo({ heldId });
}

/** Tells the server that a file that was read is out of the form: no form can be sent with it any more. */
export function takeFileOut(fileId: string): void {
  letGo({ fileId });
}

function letGo(named: Record<string, string>): void {
  const address = `/readings/columns?${new URLSearchParams(named)}`;
  // Kept alive, so that it arrives also when the page is left.
  void fetch(address, { method: "DELETE", keepalive: true }).catch(() => undefined);
}

function send(
  address: string,
  body: File | string,
  type: string,
  onStage: SendOptions["onStage"],
  signal: AbortSignal,
): Promise<SendAnswer> {
  return new Promise((resolve) => {
    const request = new XMLHttpRequest();
    request.open("POST", address);
    request.setRequestHeader("content-type", type);
    request.upload.onprogress = ({ loaded, total }) =>
      onStage({ kind: "sending", share: total === 0 ? 1 : loaded / total });
    request.upload.onload = () => onStage({ kind: "sending", share: 1 });
    request.onprogress = () => {
      const line = lastLine(request.responseText);
      if (line?.kind === "progress") onStage(line.stage);
    };
    request.onload = () => {
      const line = lastLine(request.responseText);
      resolve(line?.kind === "answer" ? line.answer : { kind: "refused", sentence: unreachable });
    };
    request.onerror = () => resolve({ kind: "refused", sentence: unreachable });
    request.onabort = () => resolve({ kind: "cancelled" });
    signal.addEventListener("abort", () => request.abort(), { once: true });
    request.send(body);
  });
}

type Line =
  | { readonly kind: "progress"; readonly stage: SendingStage }
  | { readonly kind: "answer"; readonly answer: SendAnswer };

/** The last whole line of the answer so far: each tells how far the reading is, the last of all what came of it. */
function lastLine(text: string): Line | null {
  const last =
    text
      .slice(0, text.lastIndexOf("}") + 1)
      .split("\n")
      .at(-1) ?? "";
  const parsed = uploadLineSchema.safeParse(jsonOf(last));
  if (!parsed.success) return null;
  if ("progress" in parsed.data) {
    const { stage, rows, share } = parsed.data.progress;
    return { kind: "progress", stage: stage === "judging" ? { kind: stage, rows } : { kind: "reading", rows, share } };
  }
  const { data } = parsed;
  if (data.ok) return { kind: "answer", answer: { kind: "read", summary: data.file } };
  if ("ask" in data) return { kind: "answer", answer: { kind: "ask", questions: data.ask } };
  return { kind: "answer", answer: { kind: "refused", sentence: data.sentence } };
}

function jsonOf(text: string): unknown {
  try {
    return JSON.parse(text);
  } catch {
    // A line that has not arrived whole; the next event brings the rest.
    return null;
  }
}
