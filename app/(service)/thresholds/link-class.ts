export const linkClass = "inline-flex min-h-11 items-center font-semibold text-accent underline underline-offset-4";
