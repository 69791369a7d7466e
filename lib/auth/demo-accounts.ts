import "server-only";
import { type DemoSignIn, listDemoSignInsAsSystem } from "@/lib/data/users";

/** Known to everybody, which is why a demo account works in a demo database only. */
export const DEMO_PASSWORD = "nine quiet groups";

export function demoSignIns(): Promise<DemoSignIn[]> {
  return listDemoSignInsAsSystem();
}
