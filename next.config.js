/** @type {import("next").NextConfig} */
const config = {
  // PGlite finds its WebAssembly beside its own files, piscina its thread's script; bundling would part them.
  serverExternalPackages: ["@electric-sql/pglite", "pglite-prisma-adapter", "pg", "piscina"],
  poweredByHeader: false,
  // Types and lint are checked by `npm run check`, once, with the project's own settings.
  typescript: { ignoreBuildErrors: true },
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

export default config;
