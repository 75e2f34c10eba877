// @ts-check
/**
 * Says things: one notice at a time on the page, the others in a list to look
 * back at, and news for screen readers.
 */
import { button, element } from './dom.js';

/** How long a notice stands that asks for nothing, in milliseconds. */
const STANDING = 9000;
/** So many notices are remembered. */
const MOST_PAST = 100;

export class Announcer {
  /**
   * @param {HTMLElement} notices where the notice stands
   * @param {HTMLElement} live the polite live region
   */
  constructor(notices, live) {
    this.notices = notices;
    this.live = live;
    /** @type {number | undefined} */
    this.pending = undefined;
    /** Notices that stay until they are closed; each comes back when the one over it is gone. @type {HTMLElement[]} */
    this.kept = [];
    /** What was said, the newest first. @type {{text: string, when: Date}[]} */
    this.past = [];
    /** Asked for the list of what was said. */
    this.onList = () => {};
  }

  /**
   * A notice of what has worked; it goes by itself, unless there is more to be known of it.
   * @param {string} text
   * @param {string[]} [more] folded away, if it is more than a sentence
   */
  tell(text, more = []) {
    const folded = 1 < more.length;
    const notice = this.stand(folded ? text : [text, ...more].join(' '), 'status');
    if (folded) this.keep(notice).firstChild?.after(element('details', {}, element('summary', {}, `${more.length} remarks`), element('ul', {}, ...more.map((one) => element('li', {}, one)))));
    else setTimeout(() => this.take(notice), STANDING);
  }

  /**
   * A notice that stays until it is closed, or until whoever gave it takes it away.
   * @param {string} text
   */
  warn(text) {
    return this.keep(this.stand(text, 'alert'));
  }

  /**
   * A notice that stays until it is closed, with something to do.
   * @param {string} text
   * @param {string} order
   * @param {() => void} act
   */
  offer(text, order, act) {
    this.keep(this.stand(text, 'status', button(order, act, { class: 'strong' })));
  }

  /** Takes away what was said about the last thing that went wrong. */
  settle() {
    for (const notice of this.notices.querySelectorAll('.passing')) this.take(notice);
  }

  /**
   * What went wrong with the last act; it goes with the next one that works.
   * @param {unknown} error
   */
  refuse(error) {
    const text = error instanceof Error ? error.message : String(error);
    this.stand(sentence(text), 'alert').classList.add('passing');
  }

  /**
   * News for screen readers, at most twice a second: the last word counts.
   * @param {string} text
   */
  announce(text) {
    clearTimeout(this.pending);
    this.pending = window.setTimeout(() => {
      this.live.textContent = text;
    }, 500);
  }

  /**
   * @param {string} text
   * @param {'status' | 'alert'} role
   * @param {...HTMLElement} orders
   */
  stand(text, role, ...orders) {
    const notice = element('div', { class: 'notice', role }, element('span', {}, text), ...orders);
    if (this.past.length) notice.append(button('Earlier notices', () => this.onList(), { class: 'quiet' }));
    notice.append(button('Close', () => this.take(notice), { class: 'quiet' }));
    this.kept = this.kept.filter((old) => old.firstChild?.textContent !== text);
    this.past = [{ text, when: new Date() }, ...this.past].slice(0, MOST_PAST);
    this.notices.replaceChildren(notice);
    return notice;
  }

  /** @param {HTMLElement} notice */
  keep(notice) {
    this.kept.push(notice);
    return notice;
  }

  /**
   * Takes a notice away; what it stood over is there again.
   * @param {Element} notice
   */
  take(notice) {
    this.kept = this.kept.filter((old) => old !== notice);
    if (notice.isConnected) this.notices.replaceChildren(...this.kept.slice(-1));
  }
}

/** @param {string} text */
function sentence(text) {
  const capital = text.charAt(0).toUpperCase() + text.slice(1);
  return /[.!?…]$/.test(capital) ? capital : `${capital}.`;
}
