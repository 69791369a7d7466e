import type { Metadata } from "next";
import { redirect } from "next/navigation";
import { currentActor, homeOf } from "@/lib/auth/session";
import { DemoSignIns } from "./demo-sign-ins";
import { SignInForm } from "./sign-in-form";

export const metadata: Metadata = { title: "Sign in" };

export default async function SignInPage() {
  const actor = await currentActor();
  if (actor !== null) redirect(homeOf(actor.role));
  return (
    <main className="mx-auto max-w-md px-4 py-10">
      <p className="flex items-center gap-2 font-bold">
        <span aria-hidden className="size-3 rounded-full border-2 border-ink" />
        Returns Bench
      </p>
      <h1 className="mt-2 mb-6">Sign in</h1>
      <SignInForm />
      <DemoSignIns />
    </main>
  );
}
