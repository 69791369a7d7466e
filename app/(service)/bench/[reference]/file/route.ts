import { originalLeaves } from "@/app/_exports/original-leaves";
import { may } from "@/lib/access/may";
import { currentActor } from "@/lib/auth/session";
import { openReturnFile } from "@/lib/data/readings/readings-download";
import { safeFileName } from "@/lib/readings/safe-file-name";

interface FileRoute {
  readonly params: Promise<{ readonly reference: string }>;
}

/** The original bytes of a return's readings file, to be saved, never shown: they came from outside. */
export async function GET(request: Request, { params }: FileRoute): Promise<Response> {
  const actor = await currentActor();
  // The house only: a dealer's own face has no such link, and another's file must look as if it were not there.
  if (actor === null || !may(actor, "read-queue")) return new Response(null, { status: 404 });
  const named = new URL(request.url).searchParams.get("file") ?? undefined;
  const file = await openReturnFile(actor, (await params).reference, named);
  if (file === null) return new Response(null, { status: 404 });
  await originalLeaves(actor, (await params).reference, file.sha256);
  return new Response(file.bytes, {
    headers: {
      "Content-Type": "text/csv; charset=utf-8",
      "Content-Length": String(file.sizeBytes),
      "Content-Disposition": `attachment; filename="${safeFileName(file.fileName)}"`,
      "X-Content-Type-Options": "nosniff",
      "Content-Security-Policy": "sandbox",
      "Cache-Control": "private, no-store",
    },
  });
}
