import { Prisma } from "@/prisma/generated/client";

/**
 * Whether a write broke the unique constraint with this index or column.
 *
 * With a driver adapter the name is not in `meta.target` but deep inside `meta.driverAdapterError`; this is the only
 * place that knows the shape, and an integration test provokes the real error on both databases.
 */
export function breaksUnique(error: unknown, named: string): boolean {
  if (!(error instanceof Prisma.PrismaClientKnownRequestError) || error.code !== "P2002") return false;
  return JSON.stringify(error.meta ?? {}).includes(named);
}
