import type { XmlElement } from '../../base/xml.ts'

/** What an element is called: labels first, then the id and its classes, which programs derive from them. */
export function namesOf(element: XmlElement): readonly string[] {
  const { attributes } = element
  const labels = Object.entries(attributes).flatMap(([key, value]) =>
    /^(?:[\w-]+:)?label$|^data-name$|^[\w-]+:id$/.test(key) ? [value] : [],
  )
  const title = element.children.find(child => /(?:^|:)title$/.test(child.name))?.text ?? ''
  const id = (attributes.id ?? '').replace(/_x([0-9A-Fa-f]{2,4})_/g, (_, code: string) =>
    String.fromCharCode(Number.parseInt(code, 16)),
  )
  const names = [...labels, title, id, ...(attributes.class ?? '').split(/\s+/)]
  return [...new Set(names.map(one => one.trim()).filter(Boolean))]
}
