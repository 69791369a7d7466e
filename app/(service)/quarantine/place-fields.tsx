import { Field, TextInput } from "@/app/_components/field";

const fields = [
  ["code", "Short name", "text"],
  ["whereItIs", "Where it is, so that the fire service finds it", "text"],
  ["maxPacks", "Packs at most", "numeric"],
  ["maxEnergyKwh", "Energy at most, kWh", "decimal"],
  ["minimumHours", "Hours a pack stays at least", "numeric"],
  ["overdueAfterHours", "Hours after which a stay is overdue", "numeric"],
  ["emergencyNumber", "Emergency number", "text"],
  ["onCall", "On call", "text"],
  ["extinguishing", "For putting out and cooling", "text"],
  ["assemblyPoint", "Assembly point", "text"],
] as const;

/** The settings of a place. The limits are those agreed with the insurer and the fire service. */
export function PlaceFields() {
  return (
    <div className="grid gap-4 sm:grid-cols-2">
      {fields.map(([name, label, inputMode]) => (
        <Field key={name} id={`place-${name}`} label={label}>
          {(wiring) => <TextInput {...wiring} name={name} inputMode={inputMode} required />}
        </Field>
      ))}
    </div>
  );
}
