import { createServer, type Socket } from "node:net";

export interface ReceivedMail {
  readonly from: string;
  readonly to: readonly string[];
  readonly data: string;
}

export interface LoopbackMail {
  readonly url: string;
  readonly mails: ReceivedMail[];
  /** How many messages are still to be refused with a temporary failure. */
  refuseNext: number;
  close(): Promise<void>;
}

/** A mail server on this machine that speaks just enough of RFC 5321 to take a message, or to refuse it. */
export async function startLoopbackMail(): Promise<LoopbackMail> {
  const mails: ReceivedMail[] = [];
  const state = { refuseNext: 0 };
  const server = createServer((socket) => serve(socket, mails, state));
  await new Promise<void>((resolve) => server.listen(0, "127.0.0.1", resolve));
  const address = server.address();
  if (address === null || typeof address === "string") throw new Error("no port");
  return {
    url: `smtp://127.0.0.1:${address.port}`,
    mails,
    get refuseNext() {
      return state.refuseNext;
    },
    set refuseNext(count: number) {
      state.refuseNext = count;
    },
    close: () => new Promise((resolve, reject) => server.close((error) => (error ? reject(error) : resolve()))),
  };
}

function serve(socket: Socket, mails: ReceivedMail[], state: { refuseNext: number }): void {
  let pending = "";
  let envelope = { from: "", to: [] as string[] };
  let inData = false;
  const say = (line: string) => socket.write(`${line}\r\n`);
  say("220 loopback.example ready");
  socket.on("error", () => socket.destroy());
  socket.setEncoding("utf8");
  socket.on("data", (chunk: string) => {
    pending += chunk;
    for (;;) {
      const end = pending.indexOf(inData ? "\r\n.\r\n" : "\r\n");
      if (end < 0) return;
      const part = pending.slice(0, end);
      pending = pending.slice(end + (inData ? 5 : 2));
      if (inData) {
        inData = false;
        mails.push({ ...envelope, data: part });
        envelope = { from: "", to: [] };
        say("250 taken");
      } else command(part);
    }
  });

  function command(line: string): void {
    const word = line.slice(0, 4).toUpperCase();
    if (word === "EHLO" || word === "HELO") say("250 loopback.example");
    else if (word === "MAIL") {
      envelope.from = between(line);
      say("250 go on");
    } else if (word === "RCPT") {
      if (state.refuseNext > 0) {
        state.refuseNext -= 1;
        say("450 mailbox busy");
        return;
      }
      envelope.to.push(between(line));
      say("250 go on");
    } else if (word === "DATA") {
      inData = true;
      say("354 end with a dot");
    } else if (word === "QUIT") {
      say("221 bye");
      socket.end();
    } else say("250 nothing to do");
  }
}

function between(line: string): string {
  return /<([^>]*)>/.exec(line)?.[1] ?? "";
}
