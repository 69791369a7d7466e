"use client";

import { signOutAction } from "@/app/sign-in/actions";
import { forgetDrafts } from "./drafts";

/** Signing out also forgets what was half written on this device: workshop telephones are passed around. */
export function SignOutButton() {
  return (
    <form action={signOutAction} onSubmit={forgetDrafts}>
      <button
        type="submit"
        className="min-h-11 whitespace-nowrap cursor-pointer px-2 font-semibold text-accent underline underline-offset-4 hover:text-ink"
      >
        Sign out
      </button>
    </form>
  );
}
