"use server";

import { redirect } from "next/navigation";
import { credentialsSchema } from "@/lib/access/credentials.schema";
import { signIn, signOut } from "@/lib/auth/sign-in";
import type { SignInState } from "./sign-in-state";

export async function signInAction(before: SignInState, form: FormData): Promise<SignInState> {
  const typed = { email: form.get("email"), password: form.get("password") };
  const again = { email: typeof typed.email === "string" ? typed.email : "", attempt: before.attempt + 1 };
  const read = credentialsSchema.safeParse(typed);
  if (!read.success) {
    const problems = read.error.issues.map(({ path, message }) => ({
      field: path[0] === "email" ? ("email" as const) : ("password" as const),
      sentence: message,
    }));
    return { ...again, problems };
  }
  const answer = await signIn(read.data);
  if (!answer.ok) return { ...again, problems: [{ field: "email", sentence: answer.sentence }] };
  redirect(answer.home);
}

export async function signOutAction(): Promise<void> {
  await signOut();
  redirect("/sign-in");
}
