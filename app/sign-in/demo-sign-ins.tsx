import { demoSignIns } from "@/lib/auth/demo-accounts";
import { DEMO_PASSWORD } from "@/lib/auth/demo-password";

/** Who may be tried in a demo database; nothing at all in any other. */
export async function DemoSignIns() {
  const accounts = await demoSignIns();
  if (accounts.length === 0) return null;
  return (
    <section aria-labelledby="demo" className="card mt-8 p-4">
      <h2 id="demo">Demo accounts</h2>
      <p className="mt-1">
        This is a demo with invented data. Every account below has the password{" "}
        <strong className="font-mono whitespace-nowrap">{DEMO_PASSWORD}</strong>
      </p>
      <ul className="mt-3 border-t border-rule">
        {accounts.map(({ email, name, who }) => (
          <li key={email} className="border-b border-rule py-2">
            <span className="block font-mono text-sm break-all select-all">{email}</span>
            <span className="text-soft">
              {name}, {who}
            </span>
          </li>
        ))}
      </ul>
    </section>
  );
}
