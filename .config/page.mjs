// Bundles the page into one file: styles, script (packed, which halves the file), and a place for a household, which
// the command fills.
import { createHash } from 'node:crypto';
import { readFileSync, writeFileSync } from 'node:fs';
import { deflateAsync } from '@gfx/zopfli';
import { minify } from '@swc/core';
import { build } from 'esbuild';

/** @param {string} folder  where page.html is written */
export async function buildPage(folder) {
  const { outputFiles } = await build({
    entryPoints: { page: 'src/page/main.tsx', style: 'src/page/page.css' },
    outdir: folder,
    write: false,
    bundle: true,
    minify: true,
    platform: 'browser',
    format: 'iife',
    target: 'es2022',
    jsx: 'automatic',
    jsxImportSource: 'preact',
    legalComments: 'none',
    plugins: [withoutIdle, withoutScales],
    logOverride: { 'import-is-undefined': 'silent' },
    logLevel: 'warning',
  });
  const textOf = (end) => outputFiles.find(({ path }) => path.endsWith(end)).text.trim();
  const [script, style] = [await shortened(textOf('.js')), textOf('.css')];
  const template = readFileSync('src/page/page.html', 'utf8');
  const unpack = /<script>([\s\S]*?)<\/script>/.exec(template)[1];
  const filled = {
    STYLE: style,
    PACKED: await packed(script),
    STYLE_HASH: hashOf(style),
    SCRIPT_HASHES: `${hashOf(unpack)} ${hashOf(script)}`,
  };
  const html = template.replace(/\{\{(STYLE|PACKED|STYLE_HASH|SCRIPT_HASHES)\}\}/g, (_, name) => filled[name]);
  writeFileSync(`${folder}/page.html`, html);
}

/**
 * Names as short as the whole file allows: 4 kB of the packed page. Nothing but names is changed (with its other liberties the same tool makes the
 * page a third slower).
 */
const shortened = async (script) => (await minify(script, { compress: false, mangle: true, ecma: 2022 })).code;

/** The script, deflated as small as the format allows, in as many blocks as it pays (3 % smaller than the usual way, for three seconds of work), in base64. */
const packed = async (script) =>
  Buffer.from(await deflateAsync(Buffer.from(script), { blocksplittingmax: 0 })).toString('base64');

/** Parts of zod that the page never calls and a bundler can not see to be idle: its texts (ours stand in src/scenario), and JSON Schema. */
const idle = new Map([
  ['locales/index.js', []],
  ['locales/en.js', ['default']],
  ['core/json-schema-processors.js', ['allProcessors', 'toJSONSchema']],
  ['core/json-schema-generator.js', ['JSONSchemaGenerator']],
  [
    'core/to-json-schema.js',
    [
      'createStandardJSONSchemaMethod',
      'createToJSONSchemaMethod',
      'extractDefs',
      'finalize',
      'initializeContext',
      'process',
      'processSchema',
    ],
  ],
]);

const withoutIdle = {
  name: 'without-idle',
  setup({ onLoad }) {
    onLoad({ filter: /\/zod\/v4\/(locales|core)\/[\w-]+\.js$/ }, ({ path }) => {
      const names = idle.get(path.split('/').slice(-2).join('/'));
      return names === undefined
        ? undefined
        : { contents: `const none = () => {};${names.map((name) => `export { none as ${name} };`).join('')}` };
    });
  },
};

/** Scales of chart.js that nobody asks for stay in the file unless the bundler is told that making a class does nothing else. */
const withoutScales = {
  name: 'without-scales',
  setup({ onLoad }) {
    onLoad({ filter: /\/chart\.js\/dist\/chart\.js$/ }, ({ path }) => ({
      contents: readFileSync(path, 'utf8').replace(
        /^class (LogarithmicScale|RadialLinearScale|TimeScale|TimeSeriesScale) extends (\w+) \{$([\s\S]*?)^\}$/gm,
        'const $1 = /* @__PURE__ */ (() => class $1 extends $2 {$3})();',
      ),
    }));
  },
};

/** Only this script and these styles run on the page. */
const hashOf = (text) => `'sha256-${createHash('sha256').update(text).digest('base64')}'`;
