import "server-only";

/**
 * Bytes as an answer to the browser sends them. Reads on only when the other side has taken what was read: a file of any size
 * needs little memory.
 */
export function webStream(chunks: AsyncIterable<Uint8Array>): ReadableStream<Uint8Array> {
  const reading = chunks[Symbol.asyncIterator]();
  return new ReadableStream({
    async pull(controller) {
      const { done, value } = await reading.next();
      if (done) controller.close();
      else controller.enqueue(value);
    },
    async cancel() {
      await reading.return?.();
    },
  });
}
