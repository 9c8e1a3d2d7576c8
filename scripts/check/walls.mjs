// Who may import whom. One table, read by imports.mjs and by people.

/** Folders of core from left to right; a file imports from its own folder or from one further left. */
export const coreOrder = [
  'base',
  'data',
  'color',
  'optics',
  'art',
  'roles',
  'effects',
  'carton',
  'material',
  'reference',
  'checks',
  'sheet',
  'job',
  'proof',
  'export',
  'host',
]

/** Where a package may enter core. Each enters through one file, except the schema library. */
export const corePackages = [
  { name: 'ag-psd', places: ['core/art/'], manyFiles: false },
  { name: 'lcms-wasm', places: ['core/color/profile.ts'], manyFiles: false },
  {
    name: 'valibot',
    places: ['core/job/', 'core/proof/', 'core/roles/role.ts', 'core/host/'],
    manyFiles: true,
  },
  // Glyphs and image codecs are two things of one package.
  { name: 'pdfjs-dist', places: ['core/base/'], manyFiles: true },
  { name: '*', places: ['core/base/'], manyFiles: false },
]

/** Packages that no file of core may import, by any road. */
export const neverInCore = [
  'node:',
  'electron',
  'react',
  'react-dom',
  'three',
  '@react-three/fiber',
  'zustand',
]

/**
 * The first wall whose `from` starts a file's path holds for it.
 * `folders`: what it may import of the project; `not`: packages that stay outside.
 */
export const walls = [
  { from: 'core/', folders: ['core/'], not: neverInCore },
  {
    from: 'electron/',
    folders: ['core/', 'electron/'],
    not: ['react', 'react-dom', 'three', '@react-three/fiber', 'zustand'],
  },
  {
    from: 'renderer/stage/',
    folders: ['core/', 'renderer/stage/'],
    not: ['node:', 'electron', 'react', 'react-dom', '@react-three/fiber', 'zustand'],
  },
  {
    from: 'renderer/standalone/',
    folders: ['core/', 'renderer/stage/', 'renderer/standalone/'],
    not: ['node:', 'electron', 'react', 'react-dom', '@react-three/fiber', 'zustand'],
  },
  {
    from: 'renderer/panels/',
    folders: ['core/', 'renderer/'],
    not: ['node:', 'electron', 'three', '@react-three/fiber'],
  },
  { from: 'renderer/', folders: ['core/', 'renderer/'], not: ['node:', 'electron'] },
]
