// Builds the page: node build.mjs OUT. What is written depends on the sources and the lock alone.
// node build.mjs --tests OUT builds its tests instead, for Node.js to run.
import { build } from "esbuild";
import { copyFile, mkdir, readdir, readFile, rm, writeFile } from "node:fs/promises";
import { dirname, join } from "node:path";
import { fileURLToPath } from "node:url";

const here = dirname(fileURLToPath(import.meta.url));
const tests = process.argv[2] === "--tests";
const out = process.argv[tests ? 3 : 2];
if (!out) throw new Error("say where to: node build.mjs OUT");
await rm(out, { recursive: true, force: true });
await mkdir(out, { recursive: true });
if (tests) {
  await build({
    absWorkingDir: here,
    entryPoints: (await readdir(join(here, "tests"))).filter((name) => name.endsWith(".test.ts")).map((name) => `tests/${name}`),
    outdir: out,
    outExtension: { ".js": ".mjs" },
    bundle: true,
    platform: "node",
    format: "esm",
    target: "node18",
    define: { TESTS_OF_THE_PAGE: JSON.stringify(join(here, "..", "tests")) },
    logLevel: "warning",
  });
  process.exit(0);
}
await build({
  absWorkingDir: here,
  entryPoints: { page: "src/main.ts" },
  outdir: out,
  bundle: true,
  splitting: true,
  format: "esm",
  target: "es2022",
  minify: true,
  legalComments: "none",
  entryNames: "[name]",
  chunkNames: "[name]",
  logLevel: "warning",
});
const styles = (await readdir(join(here, "styles"))).filter((name) => name.endsWith(".css")).sort();
const css = await Promise.all(styles.map((name) => readFile(join(here, "styles", name), "utf8")));
await build({
  absWorkingDir: here,
  stdin: { contents: css.join("\n"), loader: "css", sourcefile: "page.css" },
  outfile: join(out, "page.css"),
  minify: true,
  bundle: true,
  external: ["/fonts/*"],
  logLevel: "warning",
});
await copyFile(join(here, "index.html"), join(out, "index.html"));
// The libraries in the bundle, with their licences, as those ask.
const lock = JSON.parse(await readFile(join(here, "package-lock.json"), "utf8"));
const inside = Object.entries(lock.packages).filter(([path, made]) => path && !made.dev);
const told = [];
for (const [path, made] of inside.sort(([a], [b]) => (a < b ? -1 : 1))) {
  const folder = join(here, path);
  const names = (await readdir(folder)).filter((name) => /^licen[cs]e/i.test(name));
  const words = await Promise.all(names.map((name) => readFile(join(folder, name), "utf8")));
  told.push(`${path.replace("node_modules/", "")} ${made.version}\n\n${words.join("\n").trim()}\n`);
}
await writeFile(join(out, "LICENCES.txt"), told.join(`\n${"-".repeat(80)}\n\n`));
