// THIRD-PARTY.md: what ships, under which licence, with the licence's text. `npm run notice` writes it.
import { readdirSync, readFileSync, writeFileSync } from 'node:fs'
import { join } from 'node:path'
import { argv } from 'node:process'
import { fileURLToPath } from 'node:url'
import { dependencies } from './check/licences.mjs'

const fileName = 'THIRD-PARTY.md'

/** Data that ships and wants its notice kept; everything else in core/data/SOURCES.md is free of conditions. */
const data = [
  {
    name: 'CIE observer and illuminants, colour-science data set',
    licence: 'BSD-3-Clause',
    text: 'core/data/source/LICENSE-colour-science.txt',
  },
  {
    name: 'ISOcoated_v2_300_bas.icc, basICColor GmbH',
    licence: 'Zlib',
    text: 'core/data/icc/ISOcoated_v2_300_bas.txt',
  },
  // What a package brings along under licences of their own.
  ...[
    [
      'Liberation fonts, Red Hat, Inc. and Google Corporation',
      'OFL-1.1',
      'standard_fonts/LICENSE_LIBERATION',
    ],
    ['Foxit fonts, PDFium Authors', 'BSD-3-Clause', 'standard_fonts/LICENSE_FOXIT'],
    ['tables of character codes, Adobe Systems Incorporated', 'BSD-3-Clause', 'cmaps/LICENSE'],
    ['OpenJPEG', 'BSD-2-Clause', 'wasm/LICENSE_OPENJPEG'],
    ['JBIG2 decoder, PDFium Authors', 'BSD-3-Clause', 'wasm/LICENSE_JBIG2'],
  ].map(([name = '', licence = '', file]) => ({ name, licence, text: `node_modules/pdfjs-dist/${file}` })),
]

/**
 * The notice for the packages installed under `root`; the same install gives the same text.
 * @param {string} root
 */
export function notice(root) {
  const shipped = dependencies(root)
    .filter(one => one.ships)
    .sort((a, b) => (a.name < b.name ? -1 : a.name > b.name ? 1 : 0))
  const shippedData = data.flatMap(one => {
    const text = readOr(join(root, one.text))
    return text === null ? [] : [{ ...one, text: text.replaceAll('\r\n', '\n').trimEnd() }]
  })
  return `# Third-party software and data

rakelight ships the packages and data below. This file is made by \`npm run notice\`; do not edit it.
All data from elsewhere is listed with its source in core/data/SOURCES.md.

${[...shipped.map(one => `- ${one.name} ${one.version} (${one.licence})`), ...shippedData.map(one => `- ${one.name} (${one.licence})`)].join('\n')}

${[...shipped.map(one => section(root, one)), ...shippedData.map(one => `## ${one.name}\n\n${indent(one.text)}\n`)].join('\n')}`
}

/**
 * @param {string} root
 * @returns {string[]} one sentence when the committed notice is not what the installed packages give
 */
export function checkNotice(root) {
  const expected = notice(root)
  const found = readOr(join(root, fileName))
  return found === expected ? [] : [`${fileName} is not up to date: run npm run notice`]
}

/**
 * @param {string} root
 * @param {import('./check/licences.mjs').Dependency} one
 */
function section(root, one) {
  const folder = join(root, one.path)
  const texts = readdirSync(folder)
    .filter(name => /^(licen[cs]e|copying|notice)/i.test(name))
    .sort()
    .map(name => readFileSync(join(folder, name), 'utf8').replaceAll('\r\n', '\n').trimEnd())
  const text =
    texts.length > 0
      ? texts.map(indent).join('\n\n')
      : `The package states its licence as ${one.licence} and brings no licence text.`
  return `## ${one.name} ${one.version}\n\n${text}\n`
}

/** As a code block, so that no licence is read as markup. @param {string} text */
function indent(text) {
  return text
    .split('\n')
    .map(line => (line.trim() === '' ? '' : `    ${line.trimEnd()}`))
    .join('\n')
}

/** @param {string} path */
function readOr(path) {
  try {
    return readFileSync(path, 'utf8')
  } catch {
    return null
  }
}

if (argv[1] === fileURLToPath(import.meta.url)) {
  const root = fileURLToPath(new URL('..', import.meta.url))
  writeFileSync(join(root, fileName), notice(root))
}
