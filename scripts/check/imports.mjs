// Import rules: walls between core and the shells, order inside core, packages behind one file, no cycles.
import { existsSync, readdirSync, readFileSync } from 'node:fs'
import { dirname, join, posix, relative, sep } from 'node:path'
import ts from 'typescript'
import { coreOrder, corePackages, walls } from './walls.mjs'

/** @typedef {{ file: string, specifier: string, target: string | null, packageName: string | null }} Import */

/**
 * Every breach under `root`, one sentence each.
 * @param {string} root
 * @returns {string[]}
 */
export function checkImports(root) {
  const files = ['core', 'electron', 'renderer'].flatMap(folder => sourceFiles(root, folder))
  const imports = files.flatMap(file => importsOf(root, file))
  return [
    ...files.flatMap(file => coreReferences(root, file)),
    ...imports.flatMap(one => [...checkSpecifier(root, one), ...checkWall(one), ...checkOrder(one)]),
    ...checkCorePackages(imports),
    ...checkDeclared(root, imports),
    ...cycles(imports),
  ]
}

/**
 * @param {string} root
 * @param {string} folder
 * @returns {string[]} paths with forward slashes, from the root
 */
function sourceFiles(root, folder) {
  const path = join(root, folder)
  if (!existsSync(path)) return []
  return readdirSync(path, { recursive: true, withFileTypes: true })
    .filter(entry => entry.isFile() && /\.tsx?$/.test(entry.name))
    .map(entry => relative(root, join(entry.parentPath, entry.name)).split(sep).join('/'))
    .sort()
}

/**
 * @param {string} root
 * @param {string} file
 * @returns {Import[]}
 */
function importsOf(root, file) {
  const found = ts.preProcessFile(readFileSync(join(root, file), 'utf8'), true, true).importedFiles
  return found.map(({ fileName: specifier }) => {
    const isRelative = specifier.startsWith('.')
    const bare = specifier.replace(/\?.*$/, '')
    return {
      file,
      specifier,
      target: isRelative ? posix.normalize(posix.join(dirname(file), bare)) : null,
      packageName: isRelative ? null : packageOf(bare),
    }
  })
}

/** `@scope/name/sub` is `@scope/name`; Node's own modules are `node:`. @param {string} specifier */
function packageOf(specifier) {
  if (specifier.startsWith('node:')) return 'node:'
  return specifier
    .split('/')
    .slice(0, specifier.startsWith('@') ? 2 : 1)
    .join('/')
}

/** A reference directive would let the DOM or Node into core past its tsconfig. @param {string} root @param {string} file */
function coreReferences(root, file) {
  if (!file.startsWith('core/')) return []
  const found = ts.preProcessFile(readFileSync(join(root, file), 'utf8'), true, true)
  return [...found.typeReferenceDirectives, ...found.libReferenceDirectives].map(
    ({ fileName }) => `${file}: core is pure: reference to "${fileName}"`,
  )
}

/** @param {string} root @param {Import} one */
function checkSpecifier(root, { file, specifier, target }) {
  if (target === null || existsSync(join(root, target))) return []
  return [`${file}: "${specifier}" names no file; an import spells its file out, ending and all`]
}

/** @param {Import} one */
function checkWall({ file, specifier, target, packageName }) {
  const wall = walls.find(({ from }) => file.startsWith(from))
  if (!wall) return []
  const mayNot =
    target === null
      ? packageName !== null && wall.not.includes(packageName)
      : !wall.folders.some(folder => target.startsWith(folder))
  return mayNot ? [`${file}: ${wall.from} may not import "${specifier}"`] : []
}

/** @param {Import} one */
function checkOrder({ file, specifier, target }) {
  if (!target?.startsWith('core/') || !file.startsWith('core/')) return []
  const from = place(file)
  const to = place(target)
  if (from === null) return []
  if (to === null) return [`${file}: "${specifier}": nothing in core imports the public surface`]
  return to > from ? [`${file}: left may not import right: ${coreOrder[from]} imports ${coreOrder[to]}`] : []
}

/** Place in the order; null for core/index.ts, which stands outside it. @param {string} file */
function place(file) {
  const folder = file.split('/')[1] ?? ''
  const index = coreOrder.indexOf(folder)
  if (index < 0 && file.split('/').length > 2) throw new Error(`${file}: core has no folder "${folder}"`)
  return index < 0 ? null : index
}

/** @param {readonly Import[]} imports */
function checkCorePackages(imports) {
  /** @type {Map<string, Set<string>>} */
  const users = new Map()
  for (const { file, packageName } of imports)
    if (packageName !== null && packageName !== 'node:' && file.startsWith('core/'))
      users.set(packageName, (users.get(packageName) ?? new Set()).add(file))
  return [...users].flatMap(([name, files]) => {
    const rule = corePackages.find(one => one.name === name || one.name === '*')
    if (!rule) return []
    const outside = [...files].filter(file => !rule.places.some(at => file.startsWith(at)))
    return [
      ...outside.map(file => `${file}: "${name}" enters core only at ${rule.places.join(', ')}`),
      ...(files.size > 1 && !rule.manyFiles
        ? [`"${name}" is imported by ${[...files].join(' and ')}: a package enters core by one file`]
        : []),
    ]
  })
}

/** What ships imports only what package.json lists as shipped; the desktop runtime comes from outside. @param {string} root @param {readonly Import[]} imports */
function checkDeclared(root, imports) {
  const { dependencies = {} } = JSON.parse(readFileSync(join(root, 'package.json'), 'utf8'))
  const given = new Set([...Object.keys(dependencies), 'node:', 'electron'])
  return imports
    .filter(({ packageName }) => packageName !== null && !given.has(packageName))
    .map(({ file, packageName }) => `${file}: "${packageName}" is not among package.json's dependencies`)
}

/** One sentence for every group of files that import each other in a ring. @param {readonly Import[]} imports */
function cycles(imports) {
  /** @type {Map<string, string[]>} */
  const graph = new Map()
  for (const { file, target } of imports)
    if (target !== null) graph.set(file, [...(graph.get(file) ?? []), target])

  /** @type {string[]} */
  const breaches = []
  /** @type {Set<string>} */
  const done = new Set()
  /** @type {string[]} */
  const path = []
  /** @param {string} file */
  const walk = file => {
    const at = path.indexOf(file)
    if (at >= 0) breaches.push(`cycle: ${[...path.slice(at), file].join(' -> ')}`)
    if (at >= 0 || done.has(file)) return
    path.push(file)
    for (const next of graph.get(file) ?? []) walk(next)
    path.pop()
    done.add(file)
  }
  for (const file of graph.keys()) walk(file)
  return breaches
}
