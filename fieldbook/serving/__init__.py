"""The app in a browser: `fieldbook serve` shows it on an address of this laptop.

Textual runs the app in a process of its own that paints to a pipe, textual-serve brings the
terminal for the browser, and this room stands between them. `door` decides who may come in (a key
that is good once, then a cookie), `browser_page` has the page and its headers, `app_process` is the
app of one browser, and `web_server` puts them together and lets one browser write at a time.
`static/` has what the browser runs: a finger's taps, swipes and buttons, passed on as keys.

It may import textual-serve and aiohttp, and nothing of fieldbook but its version; the command in
`cli` imports it when it is called. Start reading at `web_server`.
"""
