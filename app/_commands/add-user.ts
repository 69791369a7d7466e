import { randomBytes } from "node:crypto";
import { parseArgs } from "node:util";
import { z } from "zod";
import { isDealerRole, roles } from "@/lib/access/actor";
import { closeAccounts, openAccountAsSystem } from "@/lib/auth/accounts";
import { findDealerIdAsSystem } from "@/lib/data/accounts/users";

const usage = `Usage: npm run -s add-user -- --email name@firm.example --name "Full Name" --role ROLE [--dealer CODE]
ROLE is one of ${roles.join(", ")}.`;

const wishSchema = z.object({
  email: z.email(),
  name: z.string().min(1).max(120),
  role: z.enum(roles),
  dealer: z.string().min(1).optional(),
});

/** Opens one account on the database of the environment and prints its first password once. For whoever runs the program. */
async function addUser(): Promise<void> {
  const text = { type: "string" } as const;
  const { values } = parseArgs({ options: { email: text, name: text, role: text, dealer: text } });
  const wish = wishSchema.safeParse(values);
  if (!wish.success) return refuse(`${z.prettifyError(wish.error)}\n${usage}`);
  const { email, name, role, dealer } = wish.data;
  if (isDealerRole(role) !== (dealer !== undefined))
    return refuse(`--dealer goes with the roles of a dealer, and only with them.\n${usage}`);
  const dealerId = dealer === undefined ? null : await findDealerIdAsSystem(dealer);
  if (dealer !== undefined && dealerId === null) return refuse(`There is no dealer with the code ${dealer}.`);
  const password = randomBytes(15).toString("base64url");
  await openAccountAsSystem({ email, name, role, dealerId, password, isDemo: false });
  console.log(`Account opened for ${email}. Password, shown this once: ${password}`);
}

function refuse(sentence: string): void {
  console.error(sentence);
  process.exitCode = 2;
}

try {
  await addUser();
} finally {
  await closeAccounts();
}
