import { Prisma } from "@/prisma/generated/client";

/**
 * The index or the columns of the unique constraint that a write broke, or null for any other error.
 *
 * With a driver adapter the name is not in `meta.target` but deep inside `meta.driverAdapterError`; this is the only
 * place that knows the shape, and an integration test provokes the real error on both databases.
 */
export function violatedUnique(error: unknown): string | null {
  if (!(error instanceof Prisma.PrismaClientKnownRequestError) || error.code !== "P2002") return null;
  const text = JSON.stringify(error.meta ?? {});
  return text;
}

export function breaksUnique(error: unknown, named: string): boolean {
  return violatedUnique(error)?.includes(named) ?? false;
}
