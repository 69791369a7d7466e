// Runs before anything is installed, so it is plain JavaScript on Node alone.
import { spawnSync } from "node:child_process";
import { createHash } from "node:crypto";
import { existsSync, readFileSync, writeFileSync } from "node:fs";
import path from "node:path";

const root = path.resolve(import.meta.dirname, "..");
const stamp = path.join(root, "node_modules/.installed-from");

/** Installs the packages of the lock file, where they are missing or another lock file was installed last. */
export function ensureInstalled() {
  const [major = 0, minor = 0] = process.versions.node.split(".").map(Number);
  if (major < 20 || (major === 20 && minor < 19)) {
    console.error(`Node 20.19 or newer is needed; this is ${process.versions.node}.`);
    process.exit(1);
  }
  const lock = createHash("sha256")
    .update(readFileSync(path.join(root, "package-lock.json")))
    .digest("hex");
  if (existsSync(stamp) && readFileSync(stamp, "utf8") === lock) return;
  console.log("Installing packages from the npm registry ...");
  // No package's install script is needed, so none runs: some would download from elsewhere.
  // The demo runs with NODE_ENV=production, under which npm would leave out what the tests need and remove it where it lies.
  const quiet = ["--include=dev", "--ignore-scripts", "--no-audit", "--no-fund", "--loglevel=error"];
  if (runNpm(["ci", ...quiet]) !== 0) {
    console.log("The lock file does not suit this npm; installing by package.json instead ...");
    const status = runNpm(["install", "--no-save", ...quiet]);
    if (status !== 0) {
      console.error("The packages could not be installed. Is the npm registry within reach?");
      process.exit(status);
    }
  }
  writeFileSync(stamp, lock);
}

function runNpm(commandArguments) {
  // npm_execpath is npm's own script when this runs under `npm run`, which spares a shell on every system.
  const script = process.env.npm_execpath;
  const [command, args] = script?.endsWith(".js")
    ? [process.execPath, [script, ...commandArguments]]
    : ["npm", commandArguments];
  return (
    spawnSync(command, args, {
      cwd: root,
      stdio: ["ignore", "ignore", "inherit"],
      shell: command === "npm" && process.platform === "win32",
    }).status ?? 1
  );
}

export { root };
