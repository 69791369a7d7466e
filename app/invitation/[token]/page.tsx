import type { Metadata } from "next";
import { notFound } from "next/navigation";
import { AnswerForm } from "@/app/_components/answer-form";
import { Field, TextInput } from "@/app/_components/field";
import { readInvitation } from "@/lib/auth/invitations";
import { setPasswordAction } from "./actions";

export const metadata: Metadata = { title: "Set your password", referrer: "no-referrer" };

/** Where the link of an invitation leads. A link that is used or too old is a page that does not exist. */
export default async function InvitationPage({ params }: { params: Promise<{ readonly token: string }> }) {
  const { token } = await params;
  const invited = await readInvitation(token);
  if (invited === null) notFound();
  return (
    <main className="mx-auto max-w-md space-y-5 px-4 py-10">
      <h1>Set your password</h1>
      <p className="wrap-anywhere">
        For {invited.name}, {invited.email}. You sign in with this address from now on.
      </p>
      <AnswerForm action={setPasswordAction} submit="Set the password">
        <input type="hidden" name="token" value={token} />
        <Field id="password" label="Password" hint="At least 15 characters: a few words in a row are easy to keep.">
          {(wiring) => <TextInput {...wiring} name="password" type="password" autoComplete="new-password" />}
        </Field>
        <Field id="again" label="The same once more">
          {(wiring) => <TextInput {...wiring} name="again" type="password" autoComplete="new-password" />}
        </Field>
      </AnswerForm>
    </main>
  );
}
