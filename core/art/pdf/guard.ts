import { BadInput } from '../../base/finding.ts'
import { inflateAtMost } from '../../base/inflate.ts'

// What is looked at in the bytes of a file before its objects are: whether its end is there, and whether a few numbers
// in it would make a reader take more memory than any file needs.

/** Objects of a file; ISO 32000-1, annex C names 8 388 607 as a limit of readers. */
const maxObjects = 4_000_000
/** Bytes of objects that lie packed in streams, unpacked, all together. */
const maxPackedObjects = 128 * 1024 ** 2

/**
 * Throws BadInput `not-pdf` where the file does not begin as a PDF, `pdf-cut` where its end is missing: what lies past it
 * is lost, and art that lacks something is worse than none.
 */
export function refuseCut(name: string, bytes: Uint8Array): void {
  if (find(bytes, '%PDF-', 0, 1024) < 0)
    throw new BadInput('not-pdf', name, 'byte 0', 'does not begin as a PDF does', 'Choose another file.')
  const first = latin(bytes, 0, 2048)
  const stated = /\/Linearized\b/.test(first) ? /\/L\s+(\d{1,15})\b/.exec(first) : null
  if (stated !== null && Number(stated[1]) > bytes.length)
    throw cut(name, `is laid out for the web, says that it has ${stated[1]} bytes, and has ${bytes.length}`)
  const end = findLast(bytes, 'startxref')
  if (end < 0) throw cut(name, 'has no end: it stops before its table of objects')
  const begun = findLast(bytes, 'endobj')
  const streaming = findLast(bytes, 'endstream')
  if (Math.max(begun, streaming) > end) throw cut(name, 'goes on after its table of objects and then stops')
}

/** Throws BadInput `pdf-too-large` for tables and packed objects that would take more memory than any file needs. */
export function guardSizes(name: string, bytes: Uint8Array): void {
  for (const word of ['/Size', '/Index', '/W'])
    for (let at = find(bytes, word, 0); at >= 0; at = find(bytes, word, at + word.length)) {
      const numbers = numbersAfter(latin(bytes, at + word.length, at + word.length + 400))
      const limit = word === '/W' ? 8 : maxObjects
      if (numbers.some(value => value > limit) && isTable(bytes, at))
        throw tooLarge(
          name,
          at,
          `has a table of objects that names ${Math.max(...numbers)} of them or bytes of each`,
        )
    }
  let packed = 0
  for (let at = find(bytes, '/ObjStm', 0); at >= 0; at = find(bytes, '/ObjStm', at + 7)) {
    const begins = find(bytes, 'stream', at, at + 4096)
    if (begins < 0) continue
    const data = begins + 6 + (bytes[begins + 6] === 13 ? 2 : 1)
    const ends = find(bytes, 'endstream', data)
    const { bytes: undone } = inflateAtMost(
      bytes.subarray(data, ends < 0 ? bytes.length : ends),
      maxPackedObjects - packed + 1,
    )
    packed += undone.length
    if (packed > maxPackedObjects) throw tooLarge(name, at, 'unpacks to more objects than any page needs')
  }
}

/** Whether the dictionary around this place is that of a table of objects; fonts, functions and attachments have such keys too. */
const isTable = (bytes: Uint8Array, at: number): boolean =>
  /\/XRef\b/.test(latin(bytes, Math.max(0, at - 400), at + 400))

function numbersAfter(text: string): readonly number[] {
  const found = /^\s*(?:\[([^\]]*)|(\d+))/.exec(text)
  return (found?.[1] ?? found?.[2] ?? '').split(/\s+/).filter(Boolean).map(Number).filter(Number.isFinite)
}

function cut(name: string, problem: string): BadInput {
  return new BadInput(
    'pdf-cut',
    name,
    'end of the file',
    `${problem}: the file is cut short or damaged`,
    'Copy or send it again, or export the art anew.',
  )
}

function tooLarge(name: string, at: number, problem: string): BadInput {
  return new BadInput(
    'pdf-too-large',
    name,
    `byte ${at}`,
    problem,
    'Export the page of the carton alone, or ask for a fresh copy.',
  )
}

const latin = (bytes: Uint8Array, from: number, to: number): string =>
  String.fromCharCode(...bytes.subarray(from, Math.min(to, bytes.length)))

function find(bytes: Uint8Array, word: string, from: number, to = bytes.length): number {
  const first = word.charCodeAt(0)
  for (let at = bytes.indexOf(first, from); at >= 0 && at < to; at = bytes.indexOf(first, at + 1))
    if (matches(bytes, word, at)) return at
  return -1
}

function findLast(bytes: Uint8Array, word: string): number {
  const first = word.charCodeAt(0)
  for (let at = bytes.lastIndexOf(first); at >= 0; at = at === 0 ? -1 : bytes.lastIndexOf(first, at - 1))
    if (matches(bytes, word, at)) return at
  return -1
}

function matches(bytes: Uint8Array, word: string, at: number): boolean {
  for (let k = 1; k < word.length; k++) if (bytes[at + k] !== word.charCodeAt(k)) return false
  return true
}
