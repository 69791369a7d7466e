import "server-only";
import { cookies } from "next/headers";
import { isTimeZone } from "@/lib/warranty/place-of-sale";
import { zoneCookie } from "./zone-cookie";

/** The IANA zone that the reader's browser told in its cookie; null where it told none yet, or nothing that is one. */
export async function readToldZone(): Promise<string | null> {
  const told = (await cookies()).get(zoneCookie)?.value;
  return told !== undefined && isTimeZone(told) ? told : null;
}
