"""Pictures described once as data (a scene), then drawn by several renderers."""
