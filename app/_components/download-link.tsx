import { Download } from "lucide-react";

/** A link that gives a file instead of a page. */
export function DownloadLink({ href, children }: { readonly href: string; readonly children: string }) {
  return (
    <a
      href={href}
      download
      className="inline-flex min-h-11 items-center gap-2 font-semibold text-accent underline underline-offset-4"
    >
      <Download aria-hidden size={18} />
      {children}
    </a>
  );
}
