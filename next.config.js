/** @type {import("next").NextConfig} */
const config = {
  // PGlite finds its WebAssembly beside its own files, piscina its thread's script; bundling would part them.
  serverExternalPackages: ["@electric-sql/pglite", "pglite-prisma-adapter", "pg", "piscina"],
  poweredByHeader: false,
  // Types and lint are checked by `npm run check`, once, with the project's own settings.
  typescript: { ignoreBuildErrors: true },
  // Next answers an address whose escapes are no text with a fault of the server; it is one that does not exist.
  async rewrites() {
    return { beforeFiles: [{ source: `/:address(${unreadableAddress})`, destination: "/no-such-page" }] };
  },
  async headers() {
    return [
      {
        source: "/:path*",
        headers: [
          { key: "X-Content-Type-Options", value: "nosniff" },
          { key: "X-Frame-Options", value: "DENY" },
          { key: "Referrer-Policy", value: "same-origin" },
          { key: "Permissions-Policy", value: "camera=(self), microphone=(), geolocation=()" },
          { key: "Content-Security-Policy", value: contentSecurityPolicy },
        ],
      },
    ];
  },
};

// Next starts its pages with inline scripts, so 'unsafe-inline' stays for scripts until nonces are set up per request;
// nothing may be loaded from or sent to anywhere else.
const contentSecurityPolicy = [
  "default-src 'self'",
  "script-src 'self' 'unsafe-inline'",
  "style-src 'self' 'unsafe-inline'",
  "img-src 'self' data: blob:",
  "connect-src 'self'",
  "frame-ancestors 'none'",
  "base-uri 'self'",
  "form-action 'self'",
  "object-src 'none'",
].join("; ");

// A percent sign that begins no character of UTF-8 (RFC 3629, section 4; overlong forms of three and four bytes let through).
const tail = "%[89ABab][0-9A-Fa-f]";
const escapedCharacter = [
  "%[0-7][0-9A-Fa-f]",
  `%(?:[Cc][2-9A-Fa-f]|[Dd][0-9A-Fa-f])${tail}`,
  `%[Ee][0-9A-Fa-f](?:${tail}){2}`,
  `%[Ff][0-4](?:${tail}){3}`,
].join("|");
const unreadableAddress = `(?:[^%]|${escapedCharacter})*(?!${escapedCharacter})%.*`;

export default config;
