/** A picture that cannot be drawn says why, in its own place. */
export function CannotJudge({ what, because }: { what: string; because: string }) {
  return (
    <div className="border-2 border-dashed border-edge p-3">
      <p className="font-semibold">{what} cannot be judged from these readings</p>
      <p className="text-soft">{capital(because)}</p>
    </div>
  );
}

function capital(sentence: string): string {
  const ended = /[.!?]$/.test(sentence) ? sentence : `${sentence}.`;
  return `${ended.charAt(0).toUpperCase()}${ended.slice(1)}`;
}
