import "server-only";
import type { Actor } from "@/lib/access/actor";
import { may } from "@/lib/access/may";
import { readReturnReference } from "@/lib/returns/return-reference";
import { asActor } from "../database";
import { webStream } from "../web-stream";
import { isKept, readKeptFile } from "./file-store";

export interface ReturnFile {
  readonly fileName: string;
  readonly sha256: string;
  readonly sizeBytes: number;
  readonly bytes: ReadableStream<Uint8Array>;
}

/**
 * The original bytes of a return's readings file, the one that counts unless another of them is named; null where there is
 * none or the person may not read it.
 */
export async function openReturnFile(
  actor: Actor,
  typedReference: string,
  fileId?: string,
): Promise<ReturnFile | null> {
  const reading = readReturnReference(typedReference);
  if (reading.kind !== "reference" || !may(actor, "read-readings")) return null;
  const row = await asActor(actor, (tx) =>
    tx.return.findUnique({
      where: { reference: reading.reference },
      select: {
        readingFileId: true,
        readingFiles: { select: { id: true, fileName: true, sha256: true, sizeBytes: true } },
      },
    }),
  );
  const file = row?.readingFiles.find(({ id }) => id === (fileId ?? row.readingFileId));
  if (file === undefined) return null;
  // A row without its bytes is a damaged store, not a missing page: the person must hear of it.
  if (!(await isKept(file.sha256))) throw new Error(`The bytes of ${file.sha256} are not in the file store`);
  return {
    fileName: file.fileName,
    sha256: file.sha256,
    sizeBytes: Number(file.sizeBytes),
    bytes: webStream(readKeptFile(file.sha256)),
  };
}
