import { Search } from "lucide-react";
import { Button } from "@/app/_components/button";
import { Field, TextInput } from "@/app/_components/field";
import { FocusAtDesk } from "./focus-at-desk";

interface FindReturnProps {
  /** What was typed and led nowhere; empty otherwise. */
  readonly typed: string;
  readonly problem: string | null;
}

/**
 * Opens a return from its reference or its pack's serial. A plain form: a scanner types and ends with Enter, which is
 * all it takes.
 */
export function FindReturn({ typed, problem }: FindReturnProps) {
  return (
    <form action="/bench" method="get" className="w-full max-w-xl sm:w-auto sm:min-w-96">
      <FocusAtDesk id="find" />
      <Field id="find" label="Scan or type a reference or a serial" error={problem ?? undefined}>
        {(wiring) => (
          <div className="flex gap-2">
            <TextInput
              {...wiring}
              name="find"
              type="search"
              defaultValue={typed}
              autoComplete="off"
              autoCapitalize="characters"
              spellCheck={false}
              enterKeyHint="go"
              maxLength={200}
              className="font-mono"
            />
            <Button type="submit" weight="second">
              <Search aria-hidden size={18} />
              Open
            </Button>
          </div>
        )}
      </Field>
    </form>
  );
}
