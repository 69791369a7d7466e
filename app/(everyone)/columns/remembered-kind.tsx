import { LocalTime } from "@/app/_components/local-time";
import { OneStepForm } from "@/app/_components/one-step-form";
import type { RememberedCard } from "@/lib/data/readings/column-mappings";
import type { ColumnChoice } from "@/lib/readings/column-choice.schema";
import { dayOrderLabels, quantityLabels, signLabels } from "@/lib/readings/quantity-labels";
import { withdrawColumnsAction } from "./actions";

/** Headings named before the list is opened: enough to know the file by. */
const HEADINGS_SHOWN = 3;

interface RememberedKindProps {
  readonly kind: RememberedCard;
  readonly isOfManyDealers: boolean;
}

/** One kind of file: its headings, what each is read as, and the way to forget it. */
export function RememberedKind({ kind, isOfManyDealers }: RememberedKindProps) {
  const { id, dealerName, confirmedAt, timeZone, columns } = kind;
  const first = columns.slice(0, HEADINGS_SHOWN).map(({ heading }) => heading);
  const more = columns.length - first.length;
  const name = `${first.join(", ")}${more > 0 ? ` and ${more} more` : ""}`;
  return (
    <li className="card space-y-3 p-4">
      <h2 className="text-lg wrap-anywhere">{name}</h2>
      <p className="text-soft">
        {isOfManyDealers ? `${dealerName}, confirmed ` : "Confirmed "}
        <LocalTime at={confirmedAt} />
        {timeZone === null ? null : `; its clock is set to ${timeZone.replaceAll("_", " ")}`}
      </p>
      <details>
        <summary className="flex min-h-11 cursor-pointer items-center font-semibold text-accent underline underline-offset-4">
          How its columns are read
        </summary>
        <dl className="space-y-2">
          {columns.map(({ heading, choice }) => (
            <div key={heading} className="border-t border-rule pt-2 sm:flex sm:gap-4">
              <dt className="font-mono wrap-anywhere sm:w-1/2">{heading}</dt>
              <dd className="sm:w-1/2">{sayChoice(choice)}</dd>
            </div>
          ))}
        </dl>
      </details>
      <OneStepForm
        action={withdrawColumnsAction}
        hidden={{ id }}
        button="Forget this"
        spoken={`Forget how files with ${name} are read`}
      />
    </li>
  );
}

function sayChoice({ quantity, number, unit, sign, dayOrder = null }: ColumnChoice): string {
  const label = number === null ? quantityLabels[quantity] : `${quantityLabels[quantity]} ${number}`;
  const order = dayOrder === null ? null : dayOrderLabels[dayOrder].toLowerCase();
  return [label, unit, sign === null ? null : signLabels[sign].toLowerCase(), order]
    .filter((part) => part !== null)
    .join(", ");
}
