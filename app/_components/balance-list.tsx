import type { Balance } from "@/lib/settlement/balance";
import { sayMoney } from "@/lib/settlement/money";
import { FactList } from "./fact-list";

/** The balance per currency; different currencies are never added. */
export function BalanceList({ balances }: { balances: readonly Balance[] }) {
  if (balances.length === 0) return <p>Nothing is claimed and nothing is owed.</p>;
  return (
    <div className="space-y-4">
      {balances.map(({ currency, openMinor, owedMinor, paidMinor, lines }) => (
        <section key={currency} aria-label={`Balance in ${currency}`}>
          <FactList
            facts={[
              { term: "Owed, not yet paid", detail: <strong>{sayMoney(owedMinor, currency)}</strong> },
              { term: "Claimed, not yet approved", detail: sayMoney(openMinor, currency) },
              { term: "Paid so far", detail: sayMoney(paidMinor, currency) },
              { term: "Lines counted", detail: lines },
            ]}
          />
        </section>
      ))}
    </div>
  );
}
