/** A table as a file to keep; what is in it is of one person's rights, so nothing on the way may hold it. */
export function csvDownload(name: string, text: string): Response {
  return new Response(text, {
    headers: {
      "Content-Type": "text/csv; charset=utf-8",
      "Content-Disposition": `attachment; filename="${name}.csv"`,
      "X-Content-Type-Options": "nosniff",
      "Cache-Control": "private, no-store",
    },
  });
}

/** Nothing is told to whoever may not have the file. */
export function noDownload(): Response {
  return new Response(null, { status: 404 });
}
