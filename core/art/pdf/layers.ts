import type { PDFDict, PDFObject } from '../../base/pdf.ts'
import { PDFArray } from '../../base/pdf.ts'
import type { PageLayer, StatedStep } from '../ink/page.ts'
import { arrayOf, asDict, asName, dictOf, items, look, nameOf, textOf } from './objects.ts'

/** The optional-content groups of a file as layers (ISO 32000-2, 8.11). */
export class PdfLayers {
  readonly #groups: PageLayer[] = []
  readonly #byGroup = new Map<PDFDict, number>()
  readonly #joined = new Map<string, number>()
  /** Numbers in the order in which they were first painted in. */
  readonly #painted = new Set<number>()
  #places: readonly number[] | null = null

  constructor(catalog: PDFDict) {
    const properties = dictOf(catalog, 'OCProperties')
    const config = dictOf(properties, 'D')
    const groups = items(arrayOf(properties, 'OCGs')).map(asDict).filter(isDict)
    const shown = statesOf(config)
    for (const group of new Set(groups)) {
      this.#byGroup.set(group, this.#groups.length)
      this.#groups.push(layerOf(group, shown(group), this.#groups))
    }
    this.#nest(look(config, 'Order'))
  }

  /**
   * Layer of marks that lie in these optional contents, outermost first; null in none. Marks that need several layers to
   * be shown get one that is named by all of them.
   */
  numberOf(contents: readonly PDFDict[]): number | null {
    let number: number | null = null
    for (const content of contents) {
      const own = this.#ofContent(content)
      if (own !== null) number = number === null || this.#within(own, number) ? own : this.#both(number, own)
    }
    if (number === null) return null
    this.#painted.add(number)
    return this.#places === null ? number : (this.#places[number] ?? null)
  }

  /**
   * All layers, bottom first: as they were painted in, then those that nothing was painted in, top of the file's list
   * last. From here on numbers are those of this list.
   */
  settle(): readonly PageLayer[] {
    const rest = this.#groups.map((_, number) => number).filter(number => !this.#painted.has(number))
    const order = [...this.#painted, ...rest.reverse()]
    const places = new Array<number>(order.length).fill(0)
    for (const [place, number] of order.entries()) places[number] = place
    this.#places = places
    return order.flatMap(number => {
      const layer = this.#groups[number]
      if (layer === undefined) return []
      return [{ ...layer, parent: layer.parent === null ? null : (places[layer.parent] ?? null) }]
    })
  }

  #ofContent(content: PDFDict): number | null {
    const known = this.#byGroup.get(content)
    if (known !== undefined) return known
    if (nameOf(content, 'Type') !== 'OCMD') return null
    const one = look(content, 'OCGs')
    const members = (one instanceof PDFArray ? items(one) : [one]).map(asDict).filter(isDict)
    const numbers = members.flatMap(member => this.#byGroup.get(member) ?? [])
    const policy = nameOf(content, 'P') ?? 'AnyOn'
    const rule = look(content, 'VE')
    if (rule === undefined && numbers.length === 0) return null
    if (rule === undefined && numbers.length === 1 && (policy === 'AnyOn' || policy === 'AllOn'))
      return numbers[0] ?? null
    const visible = rule === undefined ? this.#byPolicy(numbers, policy) : this.#byRule(rule, 0)
    const named = rule === undefined ? numbers : this.#namedBy(rule, 0)
    return this.#join(
      named,
      policy === 'AllOn' ? ' & ' : ' | ',
      visible,
      `${policy}${rule === undefined ? '' : ' rule'}`,
    )
  }

  #byPolicy(numbers: readonly number[], policy: string): boolean {
    const states = numbers.map(number => this.#groups[number]?.visible ?? true)
    if (policy === 'AllOn') return states.every(Boolean)
    if (policy === 'AnyOff') return states.some(state => !state)
    return policy === 'AllOff' ? states.every(state => !state) : states.some(Boolean)
  }

  /** A visibility expression (8.11.2.2). */
  #byRule(rule: PDFObject | undefined, depth: number): boolean {
    const group = asDict(rule)
    if (group !== undefined) return this.#groups[this.#byGroup.get(group) ?? -1]?.visible ?? true
    if (!(rule instanceof PDFArray) || depth > 32) return true
    const [operator, ...operands] = items(rule)
    const states = operands.map(operand => this.#byRule(operand, depth + 1))
    const name = asName(operator)
    if (name === 'Not') return !(states[0] ?? true)
    return name === 'Or' ? states.some(Boolean) : states.every(Boolean)
  }

  #namedBy(rule: PDFObject | undefined, depth: number): readonly number[] {
    const group = asDict(rule)
    if (group !== undefined) return this.#byGroup.has(group) ? [this.#byGroup.get(group) ?? 0] : []
    if (!(rule instanceof PDFArray) || depth > 32) return []
    return [...new Set(items(rule).flatMap(item => this.#namedBy(item, depth + 1)))]
  }

  #both(outer: number, inner: number): number {
    const visible = [outer, inner].every(number => this.#groups[number]?.visible ?? true)
    return this.#join([outer, inner], ' & ', visible, 'both')
  }

  #join(numbers: readonly number[], between: string, visible: boolean, how: string): number {
    const key = `${how} ${numbers.join(' ')}`
    const known = this.#joined.get(key)
    if (known !== undefined) return known
    const members = numbers.flatMap(number => this.#groups[number] ?? [])
    const name = members.map(member => member.name).join(between) || 'Rule'
    const number = this.#groups.length
    this.#groups.push({
      id: freeId(name, this.#groups),
      name,
      parent: null,
      visible,
      prints: members.every(member => member.prints),
      step: members.at(-1)?.step ?? null,
    })
    this.#joined.set(key, number)
    return number
  }

  #within(inner: number, outer: number): boolean {
    let at: number | null = inner
    for (let steps = 0; at !== null && steps <= this.#groups.length; steps++) {
      if (at === outer) return true
      at = this.#groups[at]?.parent ?? null
    }
    return false
  }

  /** The order of the file's list: an array after a group holds what lies in it. */
  #nest(order: PDFObject | undefined): void {
    const visit = (list: PDFArray, parent: number | null, depth: number): void => {
      let last: number | null = null
      for (const item of items(list)) {
        const number = item instanceof PDFArray ? undefined : this.#byGroup.get(asDict(item) as PDFDict)
        if (item instanceof PDFArray && depth < 32) visit(item, last ?? parent, depth + 1)
        last = number ?? null
        const layer = number === undefined ? undefined : this.#groups[number]
        if (number === undefined || layer === undefined || layer.parent !== null || parent === null) continue
        if (!this.#within(parent, number)) this.#groups[number] = { ...layer, parent }
      }
    }
    if (order instanceof PDFArray) visit(order, null, 0)
  }
}

const isDict = (dict: PDFDict | undefined): dict is PDFDict => dict !== undefined

function layerOf(group: PDFDict, visible: boolean, before: readonly PageLayer[]): PageLayer {
  const name = (textOf(group, 'Name') ?? '').trim() || 'Layer'
  const print = nameOf(dictOf(dictOf(group, 'Usage'), 'Print'), 'PrintState')
  return {
    id: freeId(name, before),
    name,
    parent: null,
    visible,
    prints: print !== 'OFF',
    step: stepOf(group),
  }
}

function freeId(name: string, before: readonly PageLayer[]): string {
  const repeats = before.filter(layer => layer.name === name).length
  return repeats === 0 ? `layer:${name}` : `layer:${name}#${repeats + 1}`
}

/** ISO 19593-1: names in the group's GTS_Metadata. */
function stepOf(group: PDFDict): StatedStep | null {
  const stated = dictOf(group, 'GTS_Metadata')
  if (stated === undefined) return null
  return {
    group: nameOf(stated, 'GTS_ProcStepsGroup') ?? null,
    type: nameOf(stated, 'GTS_ProcStepsType') ?? null,
  }
}

/** Which groups are on as the file opens (8.11.4.3). */
function statesOf(config: PDFDict | undefined): (group: PDFDict) => boolean {
  const listed = (name: string) => new Set(items(arrayOf(config, name)).map(asDict))
  const on = listed('ON')
  const off = listed('OFF')
  const base = nameOf(config, 'BaseState') !== 'OFF'
  return group => (base ? !off.has(group) : on.has(group))
}
