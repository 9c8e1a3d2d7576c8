// Licences of everything that is installed or could be (optional builds for other machines), from the lockfile.
import { readFileSync } from 'node:fs'
import { join } from 'node:path'

/** SPDX names that may be depended on. Nothing copyleft beyond MPL-2.0, which asks only for its own files. */
const allowed = new Set([
  'MIT',
  'BSD-2-Clause',
  'BSD-3-Clause',
  'Apache-2.0',
  'ISC',
  'CC0-1.0',
  'BSL-1.0',
  '0BSD',
  'Zlib',
  'BlueOak-1.0.0',
  'MPL-2.0',
])

/** @typedef {{ path: string, name: string, version: string, licence: string | null, ships: boolean }} Dependency */

/**
 * Every locked package. The installed package's own word goes before the lockfile's copy of it.
 * @param {string} root
 * @returns {Dependency[]}
 */
export function dependencies(root) {
  const lock = JSON.parse(readFileSync(join(root, 'package-lock.json'), 'utf8'))
  return Object.entries(lock.packages)
    .filter(([path]) => path !== '')
    .map(([path, locked]) => {
      const installed = manifest(join(root, path))
      return {
        path,
        name: installed?.name ?? locked.name ?? path.slice(path.lastIndexOf('node_modules/') + 13),
        version: locked.version,
        licence: licenceName(installed?.license ?? locked.license),
        ships: !(locked.dev || locked.devOptional),
      }
    })
}

/**
 * @param {string} root
 * @returns {string[]} one sentence a breach
 */
export function checkLicences(root) {
  return dependencies(root)
    .filter(({ licence }) => licence === null || !isAllowed(licence))
    .map(
      ({ path, version, licence }) => `${path} ${version}: licence ${licence ?? 'not stated'} is not allowed`,
    )
}

/** @param {unknown} stated  a string, or the old `{type}` form */
function licenceName(stated) {
  if (typeof stated === 'string') return stated
  if (typeof stated === 'object' && stated !== null && 'type' in stated) return String(stated.type)
  return null
}

/**
 * An SPDX expression passes when a reader of it could choose allowed licences only; AND binds before OR.
 * `WITH` exceptions and unknown words fail, as they should be looked at.
 * @param {string} expression
 */
export function isAllowed(expression) {
  const words = expression.match(/\(|\)|[^\s()]+/g) ?? []
  let at = 0
  /** @returns {boolean} */
  const either = () => {
    let good = both()
    while (words[at] === 'OR') {
      at++
      good = both() || good
    }
    return good
  }
  /** @returns {boolean} */
  const both = () => {
    let good = one()
    while (words[at] === 'AND') {
      at++
      good = one() && good
    }
    return good
  }
  /** @returns {boolean} */
  const one = () => {
    const word = words[at++]
    if (word !== '(') return word !== undefined && allowed.has(word)
    const good = either()
    return words[at++] === ')' && good
  }
  const good = either()
  return good && at === words.length
}

/** @param {string} folder */
function manifest(folder) {
  try {
    return JSON.parse(readFileSync(join(folder, 'package.json'), 'utf8'))
  } catch {
    return null
  }
}
