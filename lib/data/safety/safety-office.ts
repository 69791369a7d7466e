import "server-only";
import type { Actor } from "@/lib/access/actor";
import { asActor, asSystem, type Transaction } from "../database";

/**
 * Runs what the office of the safety officer writes. As the system where a named deputy does it: the database lets that office alone
 * write there, and whether this person is its deputy was asked of the table of acts.
 */
export function asSafetyOffice<T>(actor: Actor, work: (tx: Transaction) => Promise<T>): Promise<T> {
  return actor.role === "safety-officer" ? asActor(actor, work) : asSystem(work);
}
