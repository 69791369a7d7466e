import { redirect } from "next/navigation";
import { currentActor, homeOf } from "@/lib/auth/session";

/** The address without a path: everyone goes where their work is. */
export default async function Entrance() {
  const actor = await currentActor();
  redirect(actor === null ? "/sign-in" : homeOf(actor.role));
}
