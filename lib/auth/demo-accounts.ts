import "server-only";
import { type DemoSignIn, listDemoSignInsAsSystem } from "@/lib/data/users";

export function demoSignIns(): Promise<DemoSignIn[]> {
  return listDemoSignInsAsSystem();
}
