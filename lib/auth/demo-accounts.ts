import "server-only";
import { type DemoSignIn, listDemoSignInsAsSystem } from "@/lib/data/accounts/users";

export function demoSignIns(): Promise<DemoSignIn[]> {
  return listDemoSignInsAsSystem();
}
