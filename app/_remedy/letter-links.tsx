import { ButtonLink } from "@/app/_components/button";

/** Letters to the customer, to print in their language. */
export function LetterLinks({ reference, isDecided }: { reference: string; isDecided: boolean }) {
  return (
    <div className="flex flex-wrap gap-3">
      {isDecided ? (
        <ButtonLink weight="second" href={`/print/${reference}/decision-letter`}>
          Letter of the decision
        </ButtonLink>
      ) : null}
      <ButtonLink weight="second" href={`/print/${reference}/finding-letter`}>
        Letter of what was found
      </ButtonLink>
    </div>
  );
}
