import type { Metadata } from "next";
import { ButtonLink } from "./_components/button";

export const metadata: Metadata = { title: "Not found" };

export default function NotFound() {
  return (
    <main className="mx-auto max-w-xl px-4 py-16">
      <h1>There is nothing here for you</h1>
      <p className="my-4">
        The address may be mistyped, or what it names belongs to someone else. Compare the reference with what you were
        given, character by character.
      </p>
      <ButtonLink href="/">Go to my start page</ButtonLink>
    </main>
  );
}
