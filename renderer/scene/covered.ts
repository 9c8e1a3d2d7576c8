/** How much of the table the open sheet covers from the right, CSS pixels. */
export function coveredPx(within: Element | null): number {
  const table = within?.closest('.table')?.getBoundingClientRect()
  const sheet = document.querySelector('dialog.side[open]')?.getBoundingClientRect()
  return table === undefined || sheet === undefined ? 0 : Math.max(0, table.right - sheet.left)
}
