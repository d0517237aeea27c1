"""From a clean book to a published site: staging, splicing, policies, and the last good site kept until the end."""
