/** A serial or a reference: fixed-width, never broken within, not translated by the browser. */
export function SerialText({ children, large = false }: { children: string; large?: boolean }) {
  return (
    <span translate="no" className={`font-mono whitespace-nowrap ${large ? "text-2xl font-bold tracking-wide" : ""}`}>
      {children}
    </span>
  );
}
