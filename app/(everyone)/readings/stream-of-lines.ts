import type { KeptReadings, ReadingWatch } from "@/lib/data/readings/readings";

/** The connection is closed or was: there is nobody to tell. */
const cut = "the connection was closed";

/**
 * An answer that is sent while the work goes on: a line of JSON for each step of it and a last one with the outcome. Closing the
 * connection calls the work off. A fault ends the stream broken off, which the other side tells from a finished one.
 */
export function streamOfLines(signal: AbortSignal, work: (watch: ReadingWatch) => Promise<KeptReadings>): Response {
  const encoder = new TextEncoder();
  const calledOff = new AbortController();
  const callOff = () => calledOff.abort(new DOMException(cut, "AbortError"));
  signal.addEventListener("abort", callOff, { once: true });
  const body = new ReadableStream<Uint8Array>({
    async start(controller) {
      const write = (line: object) => {
        if (!calledOff.signal.aborted) controller.enqueue(encoder.encode(`${JSON.stringify(line)}\n`));
      };
      try {
        write(await work({ signal: calledOff.signal, onProgress: (progress) => write({ progress }) }));
        if (!calledOff.signal.aborted) controller.close();
      } catch (error) {
        if (!calledOff.signal.aborted) controller.error(error);
      } finally {
        signal.removeEventListener("abort", callOff);
      }
    },
    cancel: callOff,
  });
  // "no-transform" keeps compression, which would hold the lines back, away from them.
  const headers = { "content-type": "application/x-ndjson", "cache-control": "no-store, no-transform" };
  return new Response(body, { headers });
}
