import { ButtonLink } from "@/app/_components/button";
import { Notice } from "@/app/_components/notice";

/** Instead of a sheet: why there is none. Printed by mistake, it says so on paper too. */
export function NothingPrinted({ sentence, back }: { sentence: string; back: string }) {
  return (
    <main className="mx-auto max-w-2xl space-y-6 p-4 py-10">
      <h1>Nothing is printed</h1>
      <Notice kind="danger" title={sentence}>
        <p>Leave the pack as it is, apart and watched. No post, no parcel, no air.</p>
      </Notice>
      <ButtonLink weight="second" href={back}>
        Back
      </ButtonLink>
    </main>
  );
}
