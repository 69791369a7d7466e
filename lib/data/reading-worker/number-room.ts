/** Shortest a number can be in a file, bytes: a digit and what parts it from the next. */
const LEAST_BYTES_A_NUMBER = 2;

/** Numbers that a file of this many bytes holds at most, and so the room its columns may take. */
export function mostNumbersIn(sizeBytes: number): number {
  return Math.ceil(sizeBytes / LEAST_BYTES_A_NUMBER);
}

export interface NumberRoom {
  /** Resolves once there is room, in the order of asking; rejects with the signal's reason where it is aborted before. */
  readonly enter: (numbers: number, signal: AbortSignal) => Promise<void>;
  /** To be called once for each that entered. */
  readonly leave: (numbers: number) => void;
}

/** Room for the numbers of all files that are read at one time. A file larger than the room is read alone. */
export function createNumberRoom(most: number): NumberRoom {
  let held = 0;
  let waiting: { readonly numbers: number; readonly admit: () => void }[] = [];
  const hasRoomFor = (numbers: number) => held === 0 || held + numbers <= most;

  function admitNext(): void {
    const [next] = waiting;
    if (next === undefined || !hasRoomFor(next.numbers)) return;
    waiting = waiting.slice(1);
    held += next.numbers;
    next.admit();
    admitNext();
  }

  return {
    enter: (numbers, signal) =>
      new Promise((resolve, reject) => {
        if (signal.aborted) return reject(signal.reason);
        const giveUp = () => {
          waiting = waiting.filter((other) => other !== one);
          reject(signal.reason);
          admitNext();
        };
        const admit = () => {
          signal.removeEventListener("abort", giveUp);
          resolve();
        };
        const one = { numbers, admit };
        signal.addEventListener("abort", giveUp, { once: true });
        waiting = [...waiting, one];
        admitNext();
      }),
    leave: (numbers) => {
      held -= numbers;
      admitNext();
    },
  };
}
