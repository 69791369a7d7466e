import type { Metadata } from "next";
import Link from "next/link";
import { AnswerForm } from "@/app/_components/answer-form";
import { AskedText } from "@/app/_components/asked-fields";
import { readInvitation } from "@/lib/auth/invitations";
import { setPasswordAction } from "./actions";

interface InvitationPageProps {
  readonly params: Promise<{ readonly token: string }>;
}

export async function generateMetadata({ params }: InvitationPageProps): Promise<Metadata> {
  const isOpen = (await readInvitation((await params).token)) !== null;
  return { title: isOpen ? "Set your password" : "This link is used or too old", referrer: "no-referrer" };
}

/** Where the link of an invitation leads. One that is used or too old says so, and whom to ask. */
export default async function InvitationPage({ params }: InvitationPageProps) {
  const { token } = await params;
  const invited = await readInvitation(token);
  if (invited === null) return <OverLink />;
  return (
    <main className="mx-auto max-w-md space-y-5 px-4 py-10">
      <h1>Set your password</h1>
      <p className="wrap-anywhere">
        For {invited.name}, {invited.email}. You sign in with this address from now on.
      </p>
      <AnswerForm action={setPasswordAction} submit="Set the password">
        <input type="hidden" name="token" value={token} />
        <AskedText
          name="password"
          label="Password"
          hint="At least 15 characters: a few words in a row are easy to keep."
          type="password"
          autoComplete="new-password"
        />
        <AskedText name="again" label="The same once more" type="password" autoComplete="new-password" />
      </AnswerForm>
    </main>
  );
}

function OverLink() {
  return (
    <main className="mx-auto max-w-md space-y-5 px-4 py-10">
      <h1>This link is used or too old</h1>
      <p>
        A link sets a password once, within some days. If you have set yours, sign in with it; else ask whoever sent you
        the link for a new one.
      </p>
      <p>
        <Link
          href="/sign-in"
          className="inline-flex min-h-11 items-center font-semibold text-accent underline underline-offset-4"
        >
          Sign in
        </Link>
      </p>
    </main>
  );
}
