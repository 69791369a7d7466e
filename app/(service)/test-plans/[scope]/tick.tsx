/** One yes-or-no of a plan, big enough for a gloved finger. */
export function Tick({ name, label, checked }: { name: string; label: string; checked: boolean }) {
  return (
    <label className="flex min-h-11 cursor-pointer items-center gap-3">
      <input type="checkbox" name={name} defaultChecked={checked} className="size-6 shrink-0 accent-accent" />
      <span>{label}</span>
    </label>
  );
}
