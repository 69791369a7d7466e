import { z } from "zod";

/** The only reader of the environment. A wrong value stops the program with a sentence, not with a later surprise. */
const environmentSchema = z.object({
  /** A PostgreSQL server; without it the embedded database in `DATA_DIR` is used. */
  DATABASE_URL: z.url({ protocol: /^postgres(ql)?$/ }).optional(),
  /** Folder of the embedded database, the original readings files and the generated secret. */
  DATA_DIR: z.string().min(1).default("data/main"),
  /** "1" only in the demo command: the one mode in which demo accounts work. */
  DEMO: z.enum(["0", "1"]).default("0"),
  /** Signs the session cookies. Made and kept in `DATA_DIR` where it is not given. */
  AUTH_SECRET: z.string().min(32).optional(),
  /** Address people type, e.g. https://returns.example: cookies are marked secure where it is https. */
  APP_URL: z.url().default("http://localhost:3000"),
});

export interface Environment {
  readonly databaseUrl: string | null;
  readonly dataDir: string;
  readonly demo: boolean;
  readonly authSecret: string | null;
  readonly appUrl: string;
}

export function readEnvironment(): Environment {
  const given = Object.fromEntries(Object.entries(process.env).filter(([, value]) => value !== ""));
  const parsed = environmentSchema.safeParse(given);
  if (!parsed.success) throw new Error(`The environment cannot be used:\n${z.prettifyError(parsed.error)}`);
  const { DATABASE_URL, DATA_DIR, DEMO, AUTH_SECRET, APP_URL } = parsed.data;
  return {
    databaseUrl: DATABASE_URL ?? null,
    dataDir: DATA_DIR,
    demo: DEMO === "1",
    authSecret: AUTH_SECRET ?? null,
    appUrl: APP_URL,
  };
}
