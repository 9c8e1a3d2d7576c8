/** Markup that is safe to put on a page as it is. */
export interface Markup {
  readonly html: string
}

/** Any text as text of a page or value of an attribute. */
export function escaped(text: string): string {
  return text.replace(/[&<>"']/g, sign => signs[sign] ?? sign)
}
const signs: Readonly<Record<string, string>> = {
  '&': '&amp;',
  '<': '&lt;',
  '>': '&gt;',
  '"': '&quot;',
  "'": '&#39;',
}

/** A whole page that runs no script and fetches nothing, even where a browser is told to. */
export function page(title: string, parts: readonly Markup[]): string {
  return `<!doctype html>
<html lang="en">
<head>
<meta charset="utf-8">
<meta http-equiv="Content-Security-Policy" content="default-src 'none'; style-src 'unsafe-inline'">
<meta name="viewport" content="width=device-width">
<title>${escaped(title)}</title>
<style>${style}</style>
</head>
<body>
${parts.map(part => part.html).join('\n')}
</body>
</html>
`
}

export function section(title: string, { html }: Markup): Markup {
  return { html: `<section><h2>${escaped(title)}</h2>${html}</section>` }
}

export function list(items: readonly string[]): Markup {
  return { html: `<ul>${items.map(item => `<li>${escaped(item)}</li>`).join('')}</ul>` }
}

/** Rows of text. Without a head the first cell of each row names it. */
export function table(head: readonly string[] | null, rows: readonly (readonly string[])[]): Markup {
  const top =
    head === null
      ? ''
      : `<thead><tr>${head.map(cell => `<th scope="col">${escaped(cell)}</th>`).join('')}</tr></thead>`
  const body = rows.map(row => {
    const cells = row.map((cell, i) =>
      head === null && i === 0 ? `<th scope="row">${escaped(cell)}</th>` : `<td>${escaped(cell)}</td>`,
    )
    return `<tr>${cells.join('')}</tr>`
  })
  return { html: `<table>${top}<tbody>${body.join('')}</tbody></table>` }
}

const style = `
body{font:15px/1.5 system-ui,sans-serif;color:#111;background:#fff;margin:2.5rem auto;max-width:70rem;padding:0 1.5rem;font-variant-numeric:tabular-nums}
h1{font-size:1.7rem;margin:0}h2{font-size:1.15rem;margin:2rem 0 .5rem}
table{border-collapse:collapse;width:100%;margin:0 0 .8rem}
th,td{text-align:left;vertical-align:top;padding:.35rem .8rem .35rem 0;border-top:1px solid #ccc;overflow-wrap:anywhere}
th{font-weight:600}thead th{border:0;color:#555;font-size:.9rem;font-weight:500}th[scope=row]{width:16rem;font-weight:500;color:#333}
ul{padding-left:1.2rem}section{break-inside:auto}tr{break-inside:avoid}
@media print{body{margin:0;font-size:10pt}}
`.trim()
