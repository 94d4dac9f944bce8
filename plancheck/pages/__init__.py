"""Pages of HTML: the report, the inspection pack. Templates with autoescape, one file a page, nothing fetched."""
