import { cpSync, mkdirSync, mkdtempSync, rmSync, symlinkSync, writeFileSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { dirname, join } from 'node:path'
import { fileURLToPath } from 'node:url'
import { afterEach, describe, expect, it } from 'vitest'
import { isAllowed } from '../../scripts/check/licences.mjs'
import { checks } from '../../scripts/check.mjs'

/**
 * Each rule of `npm run check` is seen to fail on one planted breach, in a small tree of its own that has the
 * project's real configuration and passes every check before the breach is planted.
 */
const project = fileURLToPath(new URL('../..', import.meta.url))
const made: string[] = []

afterEach(() => {
  for (const folder of made.splice(0)) rmSync(folder, { recursive: true, force: true })
})

const clean: Readonly<Record<string, string>> = {
  'core/base/unit.ts': 'export const one = 1\n',
  'core/optics/wave.ts': "import { one } from '../base/unit.ts'\n\nexport const two = one + one\n",
  'electron/main.ts': "import { sep } from 'node:path'\n\nexport const mark = sep\n",
  'renderer/page.tsx': 'export const title = document.title\n',
  'tests/wave.test.ts': "import { two } from '../core/optics/wave.ts'\n\nexport const four = two * 2\n",
  'scripts/tool.mjs': 'export const three = 3\n',
}

function tree(planted: Readonly<Record<string, string>> = {}): string {
  const root = mkdtempSync(join(tmpdir(), 'rakelight-check-'))
  made.push(root)
  const configuration = ['.gitignore', 'biome.json', 'package.json', 'tsconfig.json', 'tsconfig.base.json']
  const projects = ['core', 'electron', 'renderer', 'tests', 'scripts'].map(name => `${name}/tsconfig.json`)
  for (const name of [...configuration, ...projects]) cpSync(join(project, name), join(root, name))
  symlinkSync(join(project, 'node_modules'), join(root, 'node_modules'))
  for (const [name, text] of Object.entries({ ...clean, ...planted })) {
    mkdirSync(dirname(join(root, name)), { recursive: true })
    writeFileSync(join(root, name), text)
  }
  return root
}

/** A tree with nothing but a lockfile and the manifests of what is installed. */
function installed(packages: Readonly<Record<string, { license?: unknown; locked?: string }>>): string {
  const root = mkdtempSync(join(tmpdir(), 'rakelight-check-'))
  made.push(root)
  const locked: Record<string, unknown> = { '': { name: 'rakelight' } }
  for (const [name, { license, locked: inLock }] of Object.entries(packages)) {
    const path = `node_modules/${name}`
    locked[path] = { version: '1.0.0', ...(inLock === undefined ? {} : { license: inLock }) }
    if (license === undefined) continue
    mkdirSync(join(root, path), { recursive: true })
    writeFileSync(join(root, path, 'package.json'), JSON.stringify({ name, license }))
    writeFileSync(join(root, path, 'LICENSE'), `The ${name} licence.\n`)
  }
  writeFileSync(join(root, 'package-lock.json'), JSON.stringify({ packages: locked }))
  return root
}

function run(name: string, root: string): string[] {
  const check = checks.find(one => one.name === name)
  if (!check) throw new Error(`no check "${name}"`)
  return check.run(root)
}

describe('the small tree', () => {
  it('passes types, style and imports before anything is planted', () => {
    const root = tree()
    expect(run('types', root)).toEqual([])
    expect(run('style', root)).toEqual([])
    expect(run('imports', root)).toEqual([])
  })
})

describe('types refuse', () => {
  const breaches = [
    ['the DOM in core', 'core/base/leak.ts', 'export const title = document.title\n', 'TS2584'],
    ['Node in core', 'core/base/leak.ts', 'export const here = process.cwd()\n', 'TS2591'],
    ['Node modules in core', 'core/base/leak.ts', "export { sep } from 'node:path'\n", 'TS2591'],
    ['the DOM in electron', 'electron/leak.ts', 'export const title = document.title\n', 'TS2584'],
    ['Node in renderer', 'renderer/leak.ts', 'export const here = process.cwd()\n', 'TS2591'],
    [
      'an unchecked index',
      'core/base/leak.ts',
      'export const first = (a: readonly number[]): number => a[0]\n',
      'TS2322',
    ],
  ] as const
  // One run of the compiler for all: each breach is looked for by its own file and code.
  it('each breach by its own code', () => {
    const planted = Object.fromEntries(
      breaches.map(([, file, text], index) => [file.replace('leak', `leak${index}`), text]),
    )
    const said = run('types', tree(planted)).join('\n')
    for (const [what, file, , code] of breaches) {
      const index = breaches.findIndex(one => one[0] === what)
      expect(said, what).toMatch(new RegExp(`${file.replace('leak', `leak${index}`)}\\(.*${code}`))
    }
  })
})

describe('style refuses', () => {
  it.each([
    ['any', 'export const x = (v: any) => v\n', 'noExplicitAny'],
    ['a silenced error', '// @ts-ignore\nexport const x: number = 1\n', 'noTsIgnore'],
    ['an unused variable', 'const x = 1\nexport const y = 2\n', 'noUnusedVariables'],
    ['a file laid out by hand', 'export const x = "double";\n', 'format'],
  ])('%s', (_, text, rule) => {
    const said = run('style', tree({ 'core/base/bad.ts': text })).join('\n')
    expect(said).toContain(`core/base/bad.ts`)
    expect(said).toContain(rule)
  })
})

describe('imports refuse', () => {
  it.each([
    [
      'core using electron',
      { 'core/base/bad.ts': "import '../../electron/main.ts'\n" },
      ['core/base/bad.ts: core/ may not import "../../electron/main.ts"'],
    ],
    [
      'electron using renderer',
      { 'electron/bad.ts': "import '../renderer/page.tsx'\n" },
      ['electron/bad.ts: electron/ may not import "../renderer/page.tsx"'],
    ],
    [
      'renderer using electron',
      { 'renderer/bad.ts': "import type {} from '../electron/main.ts'\n" },
      ['renderer/bad.ts: renderer/ may not import "../electron/main.ts"'],
    ],
    [
      'Node in core',
      { 'core/base/bad.ts': "import 'node:fs'\n" },
      ['core/base/bad.ts: core/ may not import "node:fs"'],
    ],
    [
      'three in core',
      { 'core/optics/bad.ts': "import 'three'\n" },
      [
        'core/optics/bad.ts: core/ may not import "three"',
        'core/optics/bad.ts: "three" enters core only at core/base/',
      ],
    ],
    [
      'React on the stage',
      { 'renderer/stage/bad.ts': "import 'react'\n" },
      ['renderer/stage/bad.ts: renderer/stage/ may not import "react"'],
    ],
    [
      'three in a panel',
      { 'renderer/panels/bad.ts': "import 'three'\n" },
      ['renderer/panels/bad.ts: renderer/panels/ may not import "three"'],
    ],
    [
      'left importing right, even its types',
      {
        'core/base/bad.ts': "import type { two } from '../optics/wave.ts'\n\nexport type Two = typeof two\n",
      },
      ['core/base/bad.ts: left may not import right: base imports optics'],
    ],
    [
      'a package by two files',
      { 'core/base/a.ts': "import 'fflate'\n", 'core/base/b.ts': "import 'fflate'\n" },
      ['"fflate" is imported by core/base/a.ts and core/base/b.ts: a package enters core by one file'],
    ],
    [
      'a package in the wrong place',
      { 'core/optics/bad.ts': "import 'ag-psd'\n" },
      ['core/optics/bad.ts: "ag-psd" enters core only at core/art/'],
    ],
    [
      'a package that does not ship',
      { 'renderer/bad.ts': "import 'fast-check'\n" },
      ['renderer/bad.ts: "fast-check" is not among package.json\'s dependencies'],
    ],
    [
      'a file that is not spelled out',
      { 'core/base/bad.ts': "import './unit'\n" },
      ['core/base/bad.ts: "./unit" names no file; an import spells its file out, ending and all'],
    ],
    [
      'the DOM by a reference directive',
      { 'core/base/bad.ts': '/// <reference lib="dom" />\n' },
      ['core/base/bad.ts: core is pure: reference to "dom"'],
    ],
    [
      'a cycle',
      { 'core/base/a.ts': "import './b.ts'\n", 'core/base/b.ts': "import './a.ts'\n" },
      ['cycle: core/base/a.ts -> core/base/b.ts -> core/base/a.ts'],
    ],
  ])('%s', (_, planted, breaches) => {
    expect(run('imports', tree(planted as Record<string, string>))).toEqual(breaches)
  })
})

describe('licences', () => {
  it('refuse what is not on the list, what is not stated, and what only the lockfile knows', () => {
    const root = installed({
      fine: { license: 'MIT' },
      copyleft: { license: 'GPL-3.0-only', locked: 'MIT' },
      silent: { license: null },
      elsewhere: { locked: 'SSPL-1.0' },
    })
    expect(run('licences', root)).toEqual([
      'node_modules/copyleft 1.0.0: licence GPL-3.0-only is not allowed',
      'node_modules/silent 1.0.0: licence not stated is not allowed',
      'node_modules/elsewhere 1.0.0: licence SSPL-1.0 is not allowed',
    ])
  })

  // SPDX specification 2.3, annex D: AND binds before OR.
  it.each([
    ['MIT', true],
    ['(MIT OR GPL-3.0-only)', true],
    ['MIT AND GPL-3.0-only', false],
    ['MIT OR ISC AND GPL-3.0-only', true],
    ['(MIT OR ISC) AND GPL-3.0-only', false],
    ['GPL-2.0-only WITH Classpath-exception-2.0', false],
    ['(MIT', false],
    ['', false],
  ])('read the expression "%s"', (expression, good) => {
    expect(isAllowed(expression)).toBe(good)
  })
})

describe('the notice', () => {
  it('is refused when a package that ships is not in it', () => {
    const root = installed({ fine: { license: 'MIT' } })
    writeFileSync(join(root, 'THIRD-PARTY.md'), '# Third-party software\n')
    expect(run('notice', root)).toEqual(['THIRD-PARTY.md is not up to date: run npm run notice'])
  })
})
