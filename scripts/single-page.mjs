// Builds one TypeScript entry into one HTML file that opens from a file as well as from a server:
// `node scripts/single-page.mjs tests/bench/shader-page.ts dist/bench.html`.
import { mkdirSync, writeFileSync } from 'node:fs'
import { dirname, resolve } from 'node:path'
import { argv } from 'node:process'
import { fileURLToPath } from 'node:url'

const root = fileURLToPath(new URL('..', import.meta.url))

/**
 * The page as text; script and all are inside it.
 * @param {string} entry path of the entry inside the project
 */
export async function singlePage(entry) {
  const { build } = await import('vite')
  const built = await build({
    root,
    configFile: false,
    logLevel: 'warn',
    build: {
      target: 'chrome114',
      write: false,
      minify: true,
      chunkSizeWarningLimit: 4000,
      lib: { entry: resolve(root, entry), formats: ['iife'], name: 'page' },
    },
  })
  const [first] = Array.isArray(built) ? built : [built]
  const chunk = first && 'output' in first ? first.output[0] : undefined
  if (chunk?.type !== 'chunk') throw new Error(`${entry}: the build gave no script`)
  // A closing tag or a comment inside the script's strings would end it.
  const script = chunk.code.replaceAll('</script', '<\\/script').replaceAll('<!--', '<\\!--')
  return `<!doctype html>\n<meta charset="utf-8">\n<title>rakelight</title>\n<body>\n<script>\n${script}\n</script>\n`
}

if (argv[1] === fileURLToPath(import.meta.url)) {
  const [, , entry, out] = argv
  if (!entry || !out) throw new Error('usage: node scripts/single-page.mjs ENTRY.ts PAGE.html')
  mkdirSync(dirname(out), { recursive: true })
  writeFileSync(out, await singlePage(entry))
  console.log(`${out}: built`)
}
