// Writes the number tables of this folder from the files in source/. Run: node core/data/make.mjs
import { createHash } from 'node:crypto'
import { readFileSync, writeFileSync } from 'node:fs'

const read = name => JSON.parse(readFileSync(new URL(`source/${name}`, import.meta.url), 'utf8'))
const write = (name, text) => writeFileSync(new URL(name, import.meta.url), text)

const from = 380
const to = 780

/** Numbers filled into lines of at most 110 characters, as the formatter leaves them. */
function fill(numbers, indent) {
  const pad = ' '.repeat(indent)
  const lines = []
  let line = pad
  for (const number of numbers) {
    const word = `${number},`
    const wider = line === pad ? pad + word : `${line} ${word}`
    if (wider.length > 110) {
      lines.push(line)
      line = pad + word
    } else line = wider
  }
  return [...lines, line].join('\n')
}

const array = (numbers, indent) => `[\n${fill(numbers, indent + 2)}\n${' '.repeat(indent)}]`
const key = name => (/^[A-Za-z_]\w*$/.test(name) ? name : `'${name}'`)
const head = '// Written by make.mjs; sources in SOURCES.md.\n'

const cmf = read('cmf1931.json')
const observer = ['x', 'y', 'z'].map((axis, i) => {
  const numbers = Object.values(cmf).map(row => row[i])
  return `  /** CIE 1931 2° colour-matching function ${axis}. */\n  ${axis}: ${array(numbers, 2)},\n`
})
const start = Number(Object.keys(cmf)[0])
write(
  'observer.ts',
  `${head}\n/** CIE 1931 2° standard observer, one value a nanometre from \`start\` nm. */\nexport const observer1931: {\n  readonly start: number\n  readonly step: number\n  readonly x: readonly number[]\n  readonly y: readonly number[]\n  readonly z: readonly number[]\n} = {\n  start: ${start},\n  step: 1,\n${observer.join('')}}\n`,
)

const lamps = Object.entries(read('illum.json')).map(([name, table]) => {
  const numbers = Object.entries(table)
    .filter(([nm]) => nm >= from && nm <= to)
    .map(([, value]) => value)
  if (numbers.length !== (to - from) / 5 + 1) throw new Error(`${name}: ${numbers.length} values`)
  return `  ${key(name)}: ${array(numbers, 2)},\n`
})
write(
  'illuminants.ts',
  `${head}\n/** Relative spectra of CIE illuminants, one value every 5 nm from ${from} to ${to} nm. */\nexport const illuminants = {\n${lamps.join('')}} satisfies Record<string, readonly number[]>\n\nexport const illuminantStart = ${from}\nexport const illuminantStep = 5\n`,
)

const aluminium = read('aluminium-rakic1995.json').rows.map(row => `  [${row.join(', ')}],\n`)
write(
  'aluminium.ts',
  `${head}\n/** Evaporated aluminium: wavelength in µm, n, k. */\nexport const aluminium: readonly (readonly [number, number, number])[] = [\n${aluminium.join('')}]\n`,
)

const primaries = read('fogra39-primaries.json').rows.map(row => `  [${row.slice(4).join(', ')}],\n`)
write(
  'primaries.ts',
  `${head}\n/** CIELAB (D50, 2°) of the 16 full-tone primaries on white coated board; bit 0 cyan, 1 magenta, 2 yellow, 3 black. */\nexport const primaries: readonly (readonly [number, number, number])[] = [\n${primaries.join('')}]\n`,
)

const tables = [
  'observer.ts',
  'illuminants.ts',
  'aluminium.ts',
  'primaries.ts',
  'icc/ISOcoated_v2_300_bas.icc',
]
const all = createHash('sha256')
for (const name of tables) all.update(readFileSync(new URL(name, import.meta.url)))
write(
  'version.ts',
  `${head}\n/** Version of the tables of this folder: the first 12 digits of the SHA-256 of them all. */\nexport const dataVersion = '${all.digest('hex').slice(0, 12)}'\n`,
)
