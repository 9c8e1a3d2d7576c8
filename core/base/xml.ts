import { SaxesParser } from 'saxes'
import { BadInput } from './finding.ts'

export interface XmlElement {
  /** As written, with its prefix. */
  readonly name: string
  readonly attributes: Readonly<Record<string, string>>
  readonly children: readonly XmlElement[]
  /** Its own characters, without those of its children. */
  readonly text: string
  /** Line of the file where it begins, from 1. */
  readonly line: number
}

/** What a file may ask for before it is refused: far beyond any drawing, far below what would stall the machine. */
export const xmlLimits = {
  bytes: 64e6,
  elements: 400_000,
  depth: 256,
  /** Entities that the file declares, characters of one, and characters that all their uses come to. */
  entities: 200,
  entityLength: 1000,
  entityText: 1e6,
} as const

/**
 * The tree of an XML file. Nothing outside the file is fetched; an entity stands for its text and is not read again,
 * so that entities cannot grow out of each other; one that is not declared stays as it is written.
 * @param name  file name, for messages
 * @throws BadInput with the line when the file is not well-formed or asks for too much
 */
export function readXml(bytes: Uint8Array, name: string): XmlElement {
  const refuse = (code: string, where: string, problem: string, fix: string): never => {
    throw new BadInput(code, name, where, problem, fix)
  }
  const tooMuch = (what: string) =>
    refuse('xml-too-large', `line ${parser.line}`, what, 'Save only what is needed, without the rest')
  if (bytes.length > xmlLimits.bytes)
    refuse(
      'xml-too-large',
      'the file',
      `is longer than ${xmlLimits.bytes / 1e6} MB`,
      'Save only what is needed, without pictures',
    )
  const parser = new SaxesParser({ xmlns: false })
  const open: (XmlElement & { children: XmlElement[]; text: string })[] = []
  let root: XmlElement | null = null
  let elements = 0
  let entityText = 0
  parser.on('doctype', doctype => {
    const declared = [...doctype.matchAll(/<!ENTITY\s+([\w:.-]+)\s+(?:"([^"]*)"|'([^']*)')\s*>/g)]
    if (declared.length > xmlLimits.entities) tooMuch('it declares too many entities')
    for (const [, key, double, single] of declared) {
      const value = double ?? single ?? ''
      if (value.length > xmlLimits.entityLength) tooMuch(`the entity "${key}" is too long`)
      Object.defineProperty(parser.ENTITIES, key!, {
        configurable: true,
        get: () => {
          entityText += value.length
          return entityText > xmlLimits.entityText ? tooMuch('its entities are used without end') : value
        },
      })
    }
  })
  parser.on('opentag', tag => {
    if (++elements > xmlLimits.elements) tooMuch(`there are more than ${xmlLimits.elements} elements`)
    if (open.length >= xmlLimits.depth) tooMuch(`elements lie more than ${xmlLimits.depth} deep`)
    const element = {
      name: tag.name,
      attributes: tag.attributes,
      children: [],
      text: '',
      line: parser.line,
    }
    open.at(-1)?.children.push(element)
    root ??= element
    open.push(element)
  })
  const addText = (text: string) => {
    const inside = open.at(-1)
    if (inside !== undefined) inside.text += text
  }
  parser.on('text', addText)
  parser.on('cdata', addText)
  parser.on('closetag', () => void open.pop())
  parser.on('error', error => {
    // An entity that the file uses and declares elsewhere, if at all, is no reason to refuse the lines.
    if (/undefined entity/.test(error.message)) return
    refuse(
      'xml-broken',
      `line ${parser.line}`,
      `is not well-formed XML: ${error.message.replace(/^(?:[^:]*:)?\d+:\d+: /, '').replace(/\.$/, '')}`,
      'Save the drawing again, as plain SVG',
    )
  })
  parser.write(textOf(bytes, name)).close()
  return root ?? refuse('xml-broken', 'the file', 'holds nothing', 'Save the drawing again, as plain SVG')
}

/** UTF-8 or UTF-16, told by the first bytes, or what the file says of itself. */
function textOf(bytes: Uint8Array, name: string): string {
  const head = String.fromCharCode(...bytes.subarray(0, 200))
  const stated = /^<\?xml[^>]*encoding\s*=\s*["']([\w.:-]+)["']/.exec(head)?.[1]
  const [a, b] = bytes
  const label = a === 0xfe && b === 0xff ? 'utf-16be' : a === 0xff && b === 0xfe ? 'utf-16le' : stated
  try {
    return new TextDecoder(label ?? 'utf-8', { fatal: true }).decode(bytes)
  } catch {
    throw new BadInput(
      'xml-broken',
      name,
      'the file',
      'its characters cannot be read',
      'Save the drawing again, as plain SVG in UTF-8',
    )
  }
}
