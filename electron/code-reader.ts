import { readFile } from 'node:fs/promises'
import { join } from 'node:path'
import { type CodeReader, openCodeReader } from '../core/base/code-reader.ts'
import { distFolder } from './places.ts'

const program = join(distFolder, '..', 'node_modules', 'zxing-wasm', 'dist', 'reader', 'zxing_reader.wasm')

let opened: Promise<CodeReader> | null = null

/** The reader of codes, opened once a thread. */
export function codeReader(): Promise<CodeReader> {
  opened ??= readFile(program).then(openCodeReader)
  return opened
}
