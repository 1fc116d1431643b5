import { parseHTML } from 'linkedom';

const TAGS =
  'html head meta title body main article section aside header p h1 h2 h3 h4 ul ol li dl dt dd div span a em strong s code pre br sub sup blockquote hr table caption thead tbody tr th td figure figcaption details summary svg g path rect circle text desc style';

/** What a page holds that could run, fetch, or set its style: read as a browser reads it. Data of pictures is none of it. */
export function mischiefIn(page: string): string[] {
  const { document } = parseHTML(page.includes('<html') ? page : `<!doctype html><html><body>${page}</body></html>`);
  const allowed = new Set(TAGS.split(' '));
  return [...document.querySelectorAll('*')].flatMap((element) => {
    const name = element.tagName.toLowerCase();
    const attributes = [...element.attributes].flatMap(({ name: attribute, value }) => {
      if (/^(?:on|style$|srcset$|formaction$|background$)/.test(attribute)) return [`${name} ${attribute}`];
      if (attribute === 'src' && !(name === 'img' && value.startsWith('data:image/'))) return [`${name} src=${value}`];
      if (
        (attribute === 'href' || attribute === 'xlink:href') &&
        !(name === 'a' && /^(?:#|https?:|mailto:|[\w./%-]+$|[\w./%-]+#)/.test(value))
      )
        return [`${name} ${attribute}=${value}`];
      return [];
    });
    return [...(allowed.has(name) || name === 'img' ? [] : [name]), ...attributes];
  });
}
